"""The wishes of a brief as windows on computed numbers, and how far candidates are from them."""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from setwell.engine.proposals.predicted import Predicted

Array = NDArray[np.float64]

# No candidate is farther off than this in one wish: beyond it all are equally hopeless.
FARTHEST = 6.0


class Within(NamedTuple):
    """From where to where one quantity of Predicted may lie; None is an open side.

    `scale` is how far off counts as 1: on the natural log axis where `is_log`, in the unit of the
    quantity else. `if_nan` is the distance where the quantity does not exist.
    """

    quantity: str
    low: float | None
    high: float | None
    scale: float
    is_log: bool = False
    if_nan: float = FARTHEST


@dataclass(frozen=True, slots=True)
class Wish:
    """One wish: its key, its words, the windows that all have to hold, and its weight."""

    key: str
    asked: str
    windows: tuple[Within, ...]
    weight: float = 1.0


def distances(wishes: tuple[Wish, ...], found: Predicted) -> Array:
    """Return how far all candidates are from each wish, shape (wishes, ...); 0 where it holds."""
    return np.stack([_distance(wish, found) for wish in wishes])


def _distance(wish: Wish, found: Predicted) -> Array:
    off = [_off(window, np.asarray(getattr(found, window.quantity))) for window in wish.windows]
    return np.asarray(np.maximum.reduce(off))


def _off(window: Within, value: Array) -> Array:
    """Return the distance from one window."""
    middle = np.asarray(value, dtype=np.float64)
    low, high = window.low, window.high
    if window.is_log:
        middle = np.log(np.maximum(middle, 1e-12))
        low = None if low is None else np.log(low)
        high = None if high is None else np.log(high)
    off = np.zeros_like(middle)
    if low is not None:
        off = np.maximum(off, (low - middle) / window.scale)
    if high is not None:
        off = np.maximum(off, (middle - high) / window.scale)
    off = np.where(np.isnan(middle), window.if_nan, off)
    return np.asarray(np.minimum(off, FARTHEST))
