"""Which proposals nothing else beats in fit, chance, cost and number of ingredients together."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from setwell.engine.proposals.results import Proposal

Array = NDArray[np.float64]

# Differences below these are none: fit, chance, share of the cost.
_SAME_FIT, _SAME_CHANCE, _SAME_COST = 0.05, 0.02, 0.02


def front_of(proposals: Sequence[Proposal]) -> tuple[bool, ...]:
    """Return for each proposal whether no other is at least as good in all and better in one.

    An unknown chance or price loses against none, and beats none that is known.
    """
    values = np.array([_values(one) for one in proposals], dtype=np.float64).reshape(-1, 4)
    margins = np.array([_SAME_FIT, _SAME_CHANCE, _SAME_COST, 0.5])
    # Rows are judged, columns judge: positive where the judge is better (less).
    mine, theirs = values[:, None, :], values[None, :, :]
    gap: Array = np.nan_to_num(mine - theirs)
    # What is not known of the judge might be worse.
    gap = np.where(np.isnan(theirs) & ~np.isnan(mine), -np.inf, gap)
    is_beaten = np.all(gap >= -margins, axis=2) & np.any(gap > margins, axis=2)
    return tuple(bool(one) for one in ~np.any(is_beaten, axis=1))


def _values(one: Proposal) -> tuple[float, float, float, float]:
    cost = one.cost_per_portion
    return (
        one.fit,
        float("nan") if one.chance is None else -one.chance.value,
        float("nan") if cost is None or cost.value <= 0 else float(np.log(cost.value)),
        float(one.ingredients),
    )
