"""Turn percentages and targets into grams, for all candidate formulas at once."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def masses_solve(
    fixed: ArrayLike,
    *,
    percent: ArrayLike,
    existing: ArrayLike,
    evaporation: ArrayLike,
    ratio: ArrayLike = 0.0,
    is_agent: ArrayLike = 0.0,
    make_up_to: float | None = None,
    make_up_line: int | None = None,
) -> Array:
    """Return the grams of every line when some are percentages of the finished batch.

    `fixed` (n, L) holds weighed lines and zero elsewhere; `percent` (n or 1, L) the wanted
    percentages of the finished batch; `existing` (L, L) marks, for a line that brings a
    material *up to* a percentage, the other lines that already count toward it; `evaporation`
    (n,) is the share of the ingredients' weight that leaves as steam; `ratio` (L,) weighs a
    line as so many times the agents together, which `is_agent` (L,) marks. A line that makes
    the batch up to a weight takes what is missing. Lines come back negative when a target is
    already exceeded; the caller says so.
    """
    weighed = np.asarray(fixed, dtype=np.float64)
    share = np.asarray(percent, dtype=np.float64) / 100.0
    share = np.broadcast_to(share, weighed.shape)
    counted = weighed @ np.asarray(existing, dtype=np.float64).T
    kept = 1.0 - np.asarray(evaporation, dtype=np.float64)
    carried = np.broadcast_to(np.asarray(ratio, dtype=np.float64), weighed.shape[1:])
    agents = np.broadcast_to(np.asarray(is_agent, dtype=np.float64), weighed.shape[1:])
    if make_up_to is not None and make_up_line is not None:
        total = np.full(weighed.shape[0], make_up_to)
    else:
        total = _total(weighed, share, counted, kept, carried.sum() * agents)
    masses = np.where(share > 0, share * (total * kept)[:, None] - counted, weighed)
    masses = masses + carried * (masses @ agents)[:, None]
    if make_up_to is not None and make_up_line is not None:
        masses[:, make_up_line] = total - masses.sum(axis=1) + masses[:, make_up_line]
    return np.asarray(masses)


def _total(weighed: Array, share: Array, counted: Array, kept: Array, carrier: Array) -> Array:
    """Solve total = weighed + share · kept · total - counted for the total weight.

    `carrier` (L,) is what each gram of an agent line brings along in dispersing sugar.
    """
    weight = 1.0 + carrier
    already = np.where(share > 0, counted, 0.0) @ weight
    free = 1.0 - (share @ weight) * kept
    return np.asarray((weighed @ weight - already) / free)
