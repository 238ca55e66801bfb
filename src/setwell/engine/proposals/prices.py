"""What the agents and helpers of a proposal cost, from the prices of the pantry."""

import numpy as np
from numpy.typing import NDArray

from setwell.engine.proposals.draft import ProposalDraft

Array = NDArray[np.float64]


def prices_of(draft: ProposalDraft) -> Array:
    """Return the price per kg of each agent and helper, (added,); NaN where none is known."""
    names = [*(agent.line_name for agent in draft.agents), *draft.helpers]
    found = [draft.base.catalog.find(name) for name in names]
    prices = [None if one is None else one.material.cost_per_kg for one in found]
    return np.array([np.nan if price is None else price for price in prices], dtype=np.float64)


def cost_of(prices: Array, percents: Array) -> Array:
    """Return what percents (n, added) cost per kg of batch; NaN where a price in use lacks."""
    return np.asarray(np.where(percents > 0, percents * prices, 0.0).sum(axis=1) / 100.0)
