"""Whether fine particles stay afloat, by listed practice only.

A grain that sinks shears its liquid far more slowly than any law of flow here reaches, and what
holds it is a weak network at rest. So doses are held against those that the tables list for
suspending, and nothing is computed.
"""

from collections.abc import Iterable, Sequence
from functools import cache, reduce

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.state import Codes
from setwell.engine.milk_parting import MILK_SHARE
from setwell.engine.pipeline import BatchState
from setwell.provenance import Citation, Evidence
from setwell.tables.agents import PropertyRow, agent_rows

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]

# A rating from here on counts as afloat; 0 is cannot tell, -1 less than is listed.
AFLOAT = 0.5
# Less than this is no gel when served [kPa].
STANDS_KPA = 0.001
_DAIRY = "dairy suspension"
_LISTED = ("suspension", _DAIRY)
# A listed dose is kept as well as it can be weighed.
_WEIGHED = 0.02
# What holds by a network that sets on cooling is listed for cold drinks (our judgment) [°C].
_WARM_C = 30.0


@cache
def listed(key: str) -> tuple[PropertyRow, ...]:
    """Return the doses listed for keeping particles afloat, those for milk last."""
    rows = agent_rows()[key].properties.get("dose_typical", ())
    return tuple(sorted((row for row in rows if row.conditions in _LISTED), key=is_of_milk))


def is_of_milk(row: PropertyRow) -> bool:
    """Return whether a listed dose counts only beside milk protein."""
    return row.conditions == _DAIRY


def listed_for(key: str, *, is_milk: bool) -> PropertyRow | None:
    """Return the dose listed for a kind of base; None where none is."""
    rows = [row for row in listed(key) if is_milk or not is_of_milk(row)]
    return rows[-1] if rows else None


def listed_evidence(keys: Iterable[str]) -> Evidence:
    """Return where the listed doses of some agents come from, once each."""
    found: list[Citation] = [row.citation for key in keys for row in listed(key)]
    return tuple(dict.fromkeys(found))


def ends(row: PropertyRow) -> tuple[float, float]:
    """Return from where to where a listed dose goes, in percent."""
    return (
        row.value if row.low is None else row.low,
        row.value if row.high is None else row.high,
    )


def rating(
    key: str, percents: Array, *, is_milk: Flags, serving_c: Array, is_gelling: bool
) -> Array:
    """Return how well doses of one agent lie in what is listed, (n,).

    1 at the listed figure down to 0.5 at an end of its span, 0 where nothing tells, -1 below it
    and without any.
    """
    found = np.where(percents > 0, 0.0, -1.0)
    for row in listed(key):
        counts = (percents > 0) & (is_milk | (not is_of_milk(row)))
        found = np.where(counts, _place(row, percents), found)
    is_warm = np.asarray(serving_c) > _WARM_C
    return np.where(is_gelling & is_warm, np.minimum(found, 0.0), found)


def _place(row: PropertyRow, percents: Array) -> Array:
    """Return the rating of doses against one listed span."""
    low, high = ends(row)
    off = np.log(np.maximum(percents, 1e-12) / row.value)
    slack = np.log1p(_WEIGHED)
    below, above = np.log(low / row.value) - slack, np.log(high / row.value) + slack
    inside = 1.0 - (1.0 - AFLOAT) * np.where(off < 0, off / below, off / above)
    return np.where(off < below, -1.0, np.where(off > above, 0.0, inside))


def beside(ratings: Sequence[Array], thickens: Sequence[Array]) -> Array:
    """Return the rating of agents together: one of them is enough where the others only thicken.

    `thickens` is 1 for an agent without a gel, 0 for one that builds a network of its own.
    """
    if len(ratings) == 1:
        return ratings[0]
    found: list[Array] = []
    for at, one in enumerate(ratings):
        others = [part for n, part in enumerate(thickens) if n != at]
        found.append(np.where(reduce(np.multiply, others) > 0, one, np.minimum(one, 0.0)))
    return np.asarray(reduce(np.maximum, found))


def set_fast(afloat: Array, sets: Array | Codes, modulus: Array) -> Array:
    """Return ratings with those of gels: in what has set nothing sinks. `modulus` in kPa."""
    return np.where(modulus > STANDS_KPA, np.maximum(afloat, sets), afloat)


def afloat_of(state: BatchState) -> Array:
    """Return the rating of n computed batches, without what setting does."""
    count = len(state.masses)
    is_milk = np.broadcast_to(state.water.milk_protein_share >= MILK_SHARE, (count,))
    ratings, thickens = [np.full(count, -1.0)], [np.ones(count)]
    for key, agent in state.agents.items():
        percents = np.broadcast_to(state.doses_pct[key], (count,))
        is_gelling = agent.gel is not None
        ratings.append(
            rating(key, percents, is_milk=is_milk, serving_c=state.serving_c, is_gelling=is_gelling)
        )
        thickens.append(np.where(percents > 0, float(not is_gelling), 1.0))
    return beside(ratings, thickens)
