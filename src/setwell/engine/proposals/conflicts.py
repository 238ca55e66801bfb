"""Which wishes nothing judged meets together, and the nearest brief that something meets."""

from collections.abc import Iterator, Sequence
from itertools import combinations
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from setwell.domain.brief import Brief
from setwell.engine.proposals.base import BriefBase
from setwell.engine.proposals.predicted import Predicted
from setwell.engine.proposals.relaxing import (
    Changes,
    Loosened,
    brief_changed,
    loosened_together,
    ways_to_loosen,
)
from setwell.engine.proposals.results import Conflict, Relaxation
from setwell.engine.proposals.wish_windows import Wish, distances, mask_of, unmet
from setwell.engine.proposals.wishes import wishes_of
from setwell.engine.texture_results import Texture
from setwell.errors import InputError

Array = NDArray[np.float64]

_MOST = 3
# A wish without a gel says nothing more than that nothing sets.
_OF_GELS = frozenset({"texture", "firmness", "plating", "mouth", "holds", "setting"})
_BY_SETS = _OF_GELS | {"thickness"}
# So many ways to loosen several wishes at once are tried.
_TRIES = 24


class MetMasks(NamedTuple):
    """Candidates that were judged: at least the nearest of each set of unmet wishes.

    `found` has one row per candidate, `agents` the names of each. More rows do no harm: they are
    judged again here.
    """

    found: Predicted
    agents: tuple[tuple[str, ...], ...]


class WhatIf(NamedTuple):
    """What was judged under one limit less.

    `field` of the brief set to `value` is that limit, `text` tells it as something to do: "allow
    a boil", "allow potassium chloride".
    """

    field: str
    value: str
    text: str
    met: MetMasks


class _Near(NamedTuple):
    """One candidate as a way out: which wishes it misses, how far, and under which limit."""

    score: float
    mask: int
    row: int
    met: MetMasks
    what_if: WhatIf | None


def conflicts_of(
    wishes: tuple[Wish, ...], met: MetMasks, what_ifs: Sequence[WhatIf] = (), *, most: int = _MOST
) -> tuple[Conflict, ...]:
    """Return the smallest sets of wishes that no candidate meets together, fewest wishes first."""
    if not len(met.agents):
        return ()
    held = _masks(wishes, met)
    others = [(one, _masks(wishes, one.met)) for one in what_ifs]
    found: list[Conflict] = []
    for group in _least_unmet(held, len(wishes)):
        keys = tuple(wish.key for wish in unmet(wishes, group))
        if ("sets",) in {one.wishes for one in found} and set(keys) & _OF_GELS:
            continue
        helps = [one.text for one, masks in others if not _is_unmet(masks, group)]
        found.append(Conflict(keys, _sentence(unmet(wishes, group), helps)))
        if len(found) == most:
            break
    return tuple(found)


def relaxations_of(
    brief: Brief,
    base: BriefBase,
    wishes: tuple[Wish, ...],
    met: MetMasks,
    what_ifs: Sequence[WhatIf] = (),
    *,
    like: Texture | None = None,
    most: int = _MOST,
) -> tuple[Relaxation, ...]:
    """Return the nearest briefs that something judged meets, the least given up first.

    Each is checked: the brief with its changes is read again, and the candidate judged by it.
    """
    near = sorted(_nearest(wishes, met, None), key=lambda one: one.score)
    if near and near[0].mask == 0:
        return ()
    for what_if in what_ifs:
        near += _nearest(wishes, what_if.met, what_if)
    near.sort(key=lambda one: one.score)
    told: list[Relaxation] = []
    taken: list[_Near] = []
    for one in near:
        if any(_covers(other, one) for other in taken):
            continue
        relaxed = _relaxed(one, brief, base, wishes, like)
        if relaxed is not None:
            told.append(relaxed)
            taken.append(one)
        if len(told) == most:
            break
    return tuple(told)


def _masks(wishes: tuple[Wish, ...], met: MetMasks) -> NDArray[np.int64]:
    """Return the distinct sets of unmet wishes."""
    far = distances(wishes, met.found).reshape(len(wishes), -1)
    return np.unique(mask_of(far)).astype(np.int64)


def _is_unmet(masks: NDArray[np.int64], group: int) -> bool:
    """True where every candidate misses one wish of a group."""
    return bool(np.all(masks & group))


def _least_unmet(masks: NDArray[np.int64], count: int) -> Iterator[int]:
    """Yield the groups of wishes that nothing meets, though each smaller part is met."""
    found: list[int] = []
    for size in range(1, count + 1):
        for bits in combinations(range(count), size):
            group = sum(1 << bit for bit in bits)
            if any(other & group == other for other in found) or not _is_unmet(masks, group):
                continue
            found.append(group)
            yield group


def _sentence(group: tuple[Wish, ...], helps: list[str]) -> str:
    told = [wish.asked.split(":")[0] for wish in group]
    text = told[0] if len(told) == 1 else f"{', '.join(told[:-1])} and also {told[-1]}"
    after = f" What might help: {', or '.join(helps)}." if helps else ""
    return f"Nothing judged {text}.{after}"


def _nearest(wishes: tuple[Wish, ...], met: MetMasks, what_if: WhatIf | None) -> list[_Near]:
    """Return the nearest candidate of each set of unmet wishes."""
    far = distances(wishes, met.found).reshape(len(wishes), -1)
    masks = mask_of(far).astype(np.int64)
    bits = (masks >> np.arange(len(wishes))[:, None] & 1).astype(np.float64)
    weights = np.array([wish.weight for wish in wishes])
    # Giving up another wish, or a limit, weighs as much as being off by 1 in one.
    score = weights @ (far * bits) + bits.sum(axis=0) + (what_if is not None)
    rows = np.lexsort((np.arange(len(masks)), score, masks))
    _, first = np.unique(masks[rows], return_index=True)
    return [
        _Near(float(score[row]), int(masks[row]), int(row), met, what_if) for row in rows[first]
    ]


def _covers(other: _Near, one: _Near) -> bool:
    """True where another way out gives up no more than a part of what this one does."""
    same = other.what_if is None or other.what_if is one.what_if
    return same and other.mask & one.mask == other.mask


def _relaxed(
    near: _Near, brief: Brief, base: BriefBase, wishes: tuple[Wish, ...], like: Texture | None
) -> Relaxation | None:
    """Return the mildest way that makes one candidate fit; None where none does."""
    given_up = unmet(wishes, near.mask)
    row = Predicted._make(np.asarray(part).reshape(-1)[near.row : near.row + 1]
                          for part in near.met.found)  # fmt: skip
    keys = tuple(wish.key for wish in given_up)
    # Who gives up the gel gives up with it what only a gel can do.
    told_by_sets = _BY_SETS if "sets" in keys else frozenset()
    ways = [
        ways_to_loosen(wish, brief, row, like) for wish in given_up if wish.key not in told_by_sets
    ]
    limit: Changes = () if near.what_if is None else ((near.what_if.field, near.what_if.value),)
    for steps in _mildest(ways):
        changes = limit + loosened_together(steps)
        if _fits(brief, changes, base, row, like):
            told = ([] if near.what_if is None else [near.what_if.text]) + [s.text for s in steps]
            text = "; ".join(told)
            return Relaxation(
                keys, f"{text[:1].upper()}{text[1:]}.", changes, near.met.agents[near.row]
            )
    return None


def _mildest(ways: list[tuple[Loosened, ...]]) -> Iterator[tuple[Loosened, ...]]:
    """Yield one way for each wish, the mildest of all first."""
    if any(not one for one in ways):
        return
    places = sorted(np.ndindex(*(len(one) for one in ways)), key=lambda at: (sum(at), at))
    for at in places[:_TRIES]:
        yield tuple(one[n] for one, n in zip(ways, at, strict=True))


def _fits(
    brief: Brief, changes: Changes, base: BriefBase, row: Predicted, like: Texture | None
) -> bool:
    """True where a candidate meets every wish of the changed brief."""
    try:
        changed = brief_changed(brief, changes)
        wishes = wishes_of(changed, base, like=like if changed.texture.like else None)
    except InputError:
        return False
    return not mask_of(distances(wishes, row).reshape(len(wishes), -1)).any()
