"""What a refinement aims for: every wish met, and well inside rather than at the edge."""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from setwell.engine.proposals.predicted import Predicted
from setwell.engine.proposals.wish_windows import Wish, Within, distances

Array = NDArray[np.float64]

# What being one step inside a window counts beside being outside of it (our judgment).
_INSIDE = 0.2
# Codes have no inside.
_CODES = frozenset({"sets", "frozen"})


class Aim:
    """How far candidates are from all wishes, and from sitting well inside their windows."""

    def __init__(self, wishes: tuple[Wish, ...]) -> None:
        self.wishes = wishes
        self.narrower = tuple(_narrower(wish) for wish in wishes)
        self.weights = np.array([wish.weight for wish in wishes])

    def __call__(self, found: Predicted) -> Array:
        """Return what is to be made least, (n,)."""
        inside = self.weights @ distances(self.narrower, found)
        return np.asarray(self.outside(found) + _INSIDE * inside)

    def outside(self, found: Predicted) -> Array:
        """Return how far candidates are from all wishes together, (n,)."""
        return np.asarray(self.weights @ distances(self.wishes, found))


def _narrower(wish: Wish) -> Wish:
    return replace(wish, windows=tuple(_moved_in(window) for window in wish.windows))


def _moved_in(window: Within) -> Within:
    """Return a window with both ends a step further in, at most to its middle."""
    if window.quantity in _CODES:
        return window
    low, high = (
        None if end is None else float(np.log(end)) if window.is_log else end
        for end in (window.low, window.high)
    )
    step = window.scale
    if low is not None and high is not None:
        step = min(step, (high - low) / 2.0)
    inner = [None if low is None else low + step, None if high is None else high - step]
    if window.is_log:
        inner = [None if end is None else float(np.exp(end)) for end in inner]
    return window._replace(low=inner[0], high=inner[1])
