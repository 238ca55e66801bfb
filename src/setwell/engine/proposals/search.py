"""All singles, pairs and triples of agents over doses and helpers, judged in chunks."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import combinations
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.pair import pair_row
from setwell.engine.milk_parting import HOLDS, MILK_SHARE, PARTS
from setwell.engine.proposals.by_law import as_one, joined, laws_among
from setwell.engine.proposals.mixing import mixed, slot
from setwell.engine.proposals.predicted import Predicted
from setwell.engine.proposals.tables import (
    COUNTS,
    DOSES,
    AgentTable,
    Columns,
    HelperLevels,
    light_of,
)
from setwell.engine.proposals.wish_windows import Wish, distances, mask_of

Array = NDArray[np.float64]
Indices = NDArray[np.intp]

# Doses tried of each agent in singles, pairs and triples: from which to which place of the table
# and how many. In sets a trace that does nothing is left out.
_DOSES_OF = {1: (0, DOSES - 1, DOSES), 2: (COUNTS, DOSES - 1, 9), 3: (COUNTS, DOSES - 3, 4)}
# Candidates that are judged in one go: so many fit into the fast memory of a processor.
_AT_ONCE = 24_000
# Sets of agents with a pair law in one chunk; each is a pass of its own.
_LAWS_AT_ONCE = 48
# What one more agent costs in the order, and two gels of which no law says what they do together
# (our judgment).
_PER_AGENT, _PER_STRANGERS = 0.12, 0.25
# What a gum costs that may part from the milk protein of the base (our judgment).
_PER_PARTING = 0.25


class Kind(StrEnum):
    """How the agents of a set are put together."""

    ADDED = "added"
    # The first two by their law, the third added.
    PAIR_AND_ADDED = "pair and added"
    BY_LAW = "by law"


@dataclass(frozen=True, slots=True, eq=False)
class Job:
    """Everything that judging needs.

    `apart` are pairs of agents that nobody combines; `strangers` (agents, agents) is 1 for two
    gels of which no law says what they do together. `parts` (agents,) is 1 for a gum that milk
    protein may part from, -9 for what holds it.
    """

    tables: tuple[AgentTable, ...]
    stack: Columns
    light: Array
    levels: HelperLevels
    wishes: tuple[Wish, ...]
    apart: frozenset[frozenset[str]]
    strangers: Array
    parts: Array
    agents_most: int
    fineness: int = 1

    @property
    def keys(self) -> tuple[str, ...]:
        """The agents by their table key."""
        return tuple(table.agent.key for table in self.tables)

    def doses(self, width: int) -> Indices:
        """Return the places of the doses tried of each agent in a set of so many."""
        first, last, count = _DOSES_OF[width]
        finer = min(count * self.fineness, last - first + 1)
        return np.linspace(first, last, finer).round().astype(np.intp)


class Chunk(NamedTuple):
    """Sets of agents of one size, (m, k) places in the tables, and how they are put together."""

    combos: Indices
    kind: Kind


class Found(NamedTuple):
    """The best of each set of agents in a chunk, and the nearest for each set of unmet wishes.

    `combos` (m, 3) places of the agents, -1 for none; `score` (m,) what orders them; `places`
    (m, 4) the helper level and the dose of each agent; `off` (m, wishes) distances. `masks` (u,)
    has one bit for each unmet wish, `mask_off` the least summed distance of any candidate with it,
    `mask_combos` and `mask_places` which that is. `judged` (3,) is how many singles, pairs and
    triples there were.
    """

    combos: Indices
    score: Array
    places: Indices
    off: Array
    masks: Indices
    mask_off: Array
    mask_combos: Indices
    mask_places: Indices
    judged: Indices


Judge = Callable[[Job, Chunk], Found]
Runner = Callable[[Judge, Job, Sequence[Chunk]], Iterable[tuple[int, Found]]]


def job_of(
    tables: Sequence[AgentTable],
    levels: HelperLevels,
    wishes: tuple[Wish, ...],
    *,
    apart: frozenset[frozenset[str]] = frozenset(),
    agents_most: int = 3,
    fineness: int = 1,
) -> Job:
    """Return the job of judging some tabulated agents by some wishes."""
    stack = Columns(
        *(np.stack([getattr(table.columns, name) for table in tables]) for name in Columns._fields)
    )
    light = light_of(tables[0], len(levels.percents))
    return Job(
        tuple(tables), stack, light, levels, wishes, apart, _strangers(tables), _parts(tables),
        agents_most, fineness,
    )  # fmt: skip


def _strangers(tables: Sequence[AgentTable]) -> Array:
    """Return 1 for each two gels that are only guessed to part, or of which nothing is known."""
    gels = [table.state.gel is not None for table in tables]
    keys = [table.agent.key for table in tables]
    found = [
        [float(a != b and gels[a] and gels[b] and pair_row(keys[a], keys[b]) is None)
         for b in range(len(keys))] for a in range(len(keys))
    ]  # fmt: skip
    return np.array(found)


def _parts(tables: Sequence[AgentTable]) -> Array:
    """Return which agents part from the milk protein of the base, and which hold it."""
    is_milk = float(np.max(tables[0].kitchen.milk_protein)) >= MILK_SHARE
    keys = [table.agent.key for table in tables]
    found = [is_milk * ((key in PARTS) - 9.0 * (key in HOLDS)) for key in keys]
    return np.array(found, dtype=np.float64)


def chunks_of(job: Job, widths: Sequence[int] = (1, 2, 3)) -> tuple[Chunk, ...]:
    """Return all sets of agents of the given sizes, in chunks; singles first, then pairs."""
    chunks: list[Chunk] = []
    for width in widths:
        if width > min(job.agents_most, len(job.tables)):
            continue
        sets: dict[Kind, list[tuple[int, ...]]] = {kind: [] for kind in Kind}
        for places in combinations(range(len(job.tables)), width):
            if _goes(job, places):
                kind, ordered = _kind(job, places)
                sets[kind].append(ordered)
        rows = len(job.levels.percents) * len(job.doses(width)) ** width
        at_once = {kind: max(_AT_ONCE // rows, 1) for kind in Kind} | {Kind.BY_LAW: _LAWS_AT_ONCE}
        # Sets with the same pair stand together: its law is applied once for all of a chunk.
        sets[Kind.PAIR_AND_ADDED].sort()
        for kind in Kind:
            chunks += _cut(sets[kind], at_once[kind], width, kind)
    return tuple(chunks)


def _kind(job: Job, places: tuple[int, ...]) -> tuple[Kind, tuple[int, ...]]:
    """Return how a set is put together, and its agents with those of the only law in front.

    In a triple the guess that gelatin parts from other gels is left to the refinement.
    """
    is_triple = len(places) == 3
    laws = laws_among([job.tables[n] for n in places], is_known=is_triple)
    if not laws:
        return Kind.ADDED, places
    if not is_triple or len(laws) > 1:
        return Kind.BY_LAW, places
    pair = laws[0]
    (third,) = set(range(3)) - set(pair)
    return Kind.PAIR_AND_ADDED, (places[pair[0]], places[pair[1]], places[third])


def _goes(job: Job, places: tuple[int, ...]) -> bool:
    keys = job.keys
    return not any(frozenset((keys[a], keys[b])) in job.apart for a, b in combinations(places, 2))


def _cut(sets: list[tuple[int, ...]], size: int, width: int, kind: Kind) -> list[Chunk]:
    table = np.array(sets, dtype=np.intp).reshape(len(sets), width)
    return [Chunk(table[at : at + size], kind) for at in range(0, len(table), size)]


def serial(judge: Judge, job: Job, chunks: Sequence[Chunk]) -> Iterator[tuple[int, Found]]:
    """Judge chunk after chunk in this process."""
    for number, chunk in enumerate(chunks):
        yield number, judge(job, chunk)


def judge(job: Job, chunk: Chunk) -> Found:
    """Return the best of each set of agents in a chunk."""
    width = chunk.combos.shape[1]
    doses = job.doses(width)
    if chunk.kind is Kind.BY_LAW:
        found, burden = _by_law(job, chunk.combos, doses)
    elif chunk.kind is Kind.PAIR_AND_ADDED:
        found, burden = _pair_and_added(job, chunk.combos, doses)
    else:
        parts = [slot(job.stack, chunk.combos[:, n], doses, n, width) for n in range(width)]
        found, burden = mixed(parts, job.light)
    return _judged(job, chunk.combos, doses, found, burden)


def _by_law(job: Job, combos: Indices, doses: Indices) -> tuple[Predicted, Array]:
    levels = len(job.levels.percents)
    each = [joined([job.tables[n] for n in combo], doses, levels) for combo in combos]
    found = zip(*(one for one, _ in each), strict=True)
    return Predicted(*(np.stack(part) for part in found)), np.stack([one for _, one in each])


def _pair_and_added(job: Job, combos: Indices, doses: Indices) -> tuple[Predicted, Array]:
    """Apply the law of each pair once, and add all third agents to it."""
    levels, each = len(job.levels.percents), len(doses)
    pairs, where = np.unique(combos[:, :2], axis=0, return_inverse=True)
    ones = []
    for pair in pairs:
        tables = [job.tables[n] for n in pair]
        ones.append(as_one(tables, *joined(tables, doses, levels), job.light, doses))
    first = Columns(
        *(np.stack(part)[where].reshape(len(combos), levels, each, each, 1)
          for part in zip(*ones, strict=True))
    )  # fmt: skip
    return mixed([first, slot(job.stack, combos[:, 2], doses, 2, 3)], job.light)


def merged(found: Sequence[Found]) -> Found:
    """Return several results as one, in their order."""
    parts = Found(
        *(np.concatenate([getattr(one, name) for one in found]) for name in Found._fields)
    )
    keep = _nearest(parts.masks, parts.mask_off)
    return parts._replace(
        masks=parts.masks[keep],
        mask_off=parts.mask_off[keep],
        mask_combos=parts.mask_combos[keep],
        mask_places=parts.mask_places[keep],
        judged=parts.judged.reshape(-1, 3).sum(axis=0),
    )


def _nearest(masks: Indices, off: Array) -> Indices:
    """Return the places of the first least distance of each mask, masks rising."""
    order = np.lexsort((np.arange(len(masks)), off, masks))
    _, first = np.unique(masks[order], return_index=True)
    return order[first]


def _judged(job: Job, combos: Indices, doses: Indices, found: Predicted, burden: Array) -> Found:
    count, width = combos.shape
    off = distances(job.wishes, found).reshape(len(job.wishes), -1)
    weights = np.array([wish.weight for wish in job.wishes])
    summed = weights @ off
    guessed = sum(job.strangers[combos[:, a], combos[:, b]]
                  for a, b in combinations(range(width), 2))  # fmt: skip
    burdened = np.broadcast_to(burden, found.modulus.shape).reshape(count, -1)
    score = summed.reshape(count, -1) + burdened
    parting = job.parts[combos].sum(axis=1) > 0
    beside = _PER_STRANGERS * np.asarray(guessed) + _PER_PARTING * parting
    score += (_PER_AGENT * (width - 1) + beside).reshape(-1, 1)
    best = np.argmin(score, axis=1)
    at = np.arange(count) * score.shape[1] + best
    inner = (len(job.levels.percents), *([len(doses)] * width))
    masks, nearest = _masks(off, summed)
    return Found(
        combos=_three(combos, -1),
        score=score[np.arange(count), best],
        places=_places(best, inner, doses),
        off=off[:, at].T.copy(),
        masks=masks,
        mask_off=summed[nearest],
        mask_combos=_three(combos[nearest // score.shape[1]], -1),
        mask_places=_places(nearest % score.shape[1], inner, doses),
        judged=np.eye(3, dtype=np.intp)[width - 1] * score.size,
    )


def _masks(off: Array, summed: Array) -> tuple[Indices, Indices]:
    """Return the distinct sets of unmet wishes as bits, and the nearest candidate of each."""
    bits = mask_of(off).astype(np.intp)
    least = np.full(1 << len(off), np.inf)
    np.minimum.at(least, bits, summed)
    hits = np.flatnonzero(summed <= least[bits])
    keep = _nearest(bits[hits], summed[hits])
    return bits[hits][keep], hits[keep]


def _places(flat: Indices, inner: tuple[int, ...], doses: Indices) -> Indices:
    """Return helper level and places of the doses, padded to three agents."""
    level, *picked = np.unravel_index(flat, inner)
    table = np.stack([level, *(doses[one] for one in picked)], axis=1)
    return _wide(table, 4, -1)


def _three(combos: Indices, fill: int) -> Indices:
    return _wide(combos, 3, fill)


def _wide(table: Indices, width: int, fill: int) -> Indices:
    missing = width - table.shape[1]
    return np.pad(table, ((0, 0), (0, missing)), constant_values=fill).astype(np.intp)
