"""What stands in the way of a brief that nothing meets: conflicts, and briefs that are met."""

from collections.abc import Callable, Iterator, Mapping
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from setwell.domain.brief import Brief, Helper
from setwell.engine.proposals.base import BriefBase
from setwell.engine.proposals.by_law import joined_at
from setwell.engine.proposals.conflicts import (
    MetMasks,
    WhatIf,
    conflicts_of,
    relaxations_of,
)
from setwell.engine.proposals.predicted import Predicted
from setwell.engine.proposals.results import Conflict, Relaxation
from setwell.engine.proposals.search import Found, Job, chunks_of, judge, merged, serial
from setwell.engine.proposals.wish_windows import distances, mask_of
from setwell.engine.texture_results import Texture
from setwell.errors import InputError

Array = NDArray[np.float64]

# So many of the nearest sets of unmet wishes are looked at.
_NEAREST = 48
# Boiling, where a limit of heat is given up [°C].
_BOIL_C = 100.0
# So many limits are given up one at a time: each is a search of its own.
_LIMITS = 3
# So many ways out are looked at, and so many shown.
_OFFERED, _SHOWN = 6, 3


class WayOut(NamedTuple):
    """Which wishes conflict, and the nearest briefs that something meets."""

    conflicts: tuple[Conflict, ...]
    relaxations: tuple[Relaxation, ...]


def way_out(
    brief: Brief,
    base: BriefBase,
    job: Job,
    found: Found,
    search: Callable[[Brief], Job],
    *,
    refined: MetMasks,
    proves: Callable[[Relaxation], bool],
    like: Texture | None = None,
) -> WayOut:
    """Return what stands in the way; `search` tabulates a changed brief.

    `proves` asks the whole engine whether a way out holds; what it does not prove is left out.

    `refined` are the best candidates as the whole engine computes them. Where one of them meets
    every wish nothing stands in the way; where none does, what only the tables took for an answer
    does not count.
    """
    far = distances(job.wishes, refined.found).reshape(len(job.wishes), -1)
    if (mask_of(far) == 0).any():
        return WayOut((), ())
    near = met_masks(job, found, is_proven=False)
    met = MetMasks(Predicted.joined([refined.found, near.found]), (*refined.agents, *near.agents))
    what_ifs = tuple(_judged(one, search) for one in limits_given_up(brief))
    told = tuple(one for one in what_ifs if one is not None)
    offered = relaxations_of(
        brief, base, job.wishes, met, told, like=like, most=_OFFERED,
    )  # fmt: skip
    return WayOut(conflicts_of(job.wishes, met, told), _first_proven(offered, proves))


def _first_proven(
    offered: tuple[Relaxation, ...], proves: Callable[[Relaxation], bool]
) -> tuple[Relaxation, ...]:
    """Return the nearest ways out that hold; each costs a search of its own."""
    kept: list[Relaxation] = []
    for one in offered:
        if len(kept) < _SHOWN and proves(one):
            kept.append(one)
    return tuple(kept)


def met_masks(job: Job, found: Found, *, is_proven: bool = True) -> MetMasks:
    """Return the candidates that come nearest for each set of unmet wishes.

    Those that miss nothing are left out unless `is_proven`.
    """
    order = np.argsort(found.mask_off, kind="stable")
    order = order[(found.masks[order] > 0) | is_proven][:_NEAREST]
    rows, names = list[Predicted](), list[tuple[str, ...]]()
    for n in order:
        tables = [job.tables[one] for one in found.mask_combos[n] if one >= 0]
        level, *doses = found.mask_places[n, : 1 + len(tables)].tolist()
        # The tables are read at all levels at once; one of them is asked for.
        levels = np.arange(len(job.levels.percents))
        places = np.column_stack([levels, *(np.full_like(levels, dose) for dose in doses)])
        rows.append(joined_at(tables, places)[0].taken(np.array([level])))
        names.append(tuple(table.agent.name for table in tables))
    return MetMasks(Predicted.joined(rows), tuple(names))


class Limit(NamedTuple):
    """A limit to give up: the field, its new value, the same told, and the changed brief."""

    field: str
    value: str
    text: str
    brief: Brief


def limits_given_up(brief: Brief) -> tuple[Limit, ...]:
    """Return the limits of a brief that could be given up, one at a time."""
    return tuple(_limits(brief))[:_LIMITS]


def _limits(brief: Brief) -> Iterator[Limit]:
    if set(brief.helpers) != set(Helper):
        names = ", ".join(one.value for one in Helper)
        yield _limit(brief, "helpers", names, "allow helper salts", {"helpers": tuple(Helper)})
    if brief.limits.max_temperature_c < _BOIL_C:
        limits = brief.limits.model_copy(update={"max_temperature_c": _BOIL_C})
        yield _limit(brief, "limits.max_temperature_c", f"{_BOIL_C:g}", "allow a boil",
                     {"limits": limits})  # fmt: skip
    for diet in brief.diets:
        left = tuple(one for one in brief.diets if one is not diet)
        yield _limit(brief, "diets", ", ".join(left), f"give up {diet.value}", {"diets": left})
    if brief.shelf:
        yield _limit(brief, "shelf", "", "allow agents not on the shelf", {"shelf": ()})
    if brief.without:
        yield _limit(brief, "without", "", "allow the agents left out", {"without": ()})
    if brief.without_allergens:
        yield _limit(brief, "without_allergens", "", "allow the allergens left out",
                     {"without_allergens": ()})  # fmt: skip


def _limit(brief: Brief, field: str, value: str, text: str, update: Mapping[str, object]) -> Limit:
    return Limit(field, value, text, brief.model_copy(update=dict(update)))


def _judged(limit: Limit, search: Callable[[Brief], Job]) -> WhatIf | None:
    """Return what single agents and pairs come to with one limit less."""
    try:
        job = search(limit.brief)
    except InputError:
        return None
    found = merged([one for _, one in serial(judge, job, chunks_of(job, (1, 2)))])
    return WhatIf(limit.field, limit.value, limit.text, met_masks(job, found))
