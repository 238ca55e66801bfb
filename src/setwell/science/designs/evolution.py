"""A cloud of points that learns which way is down: its middle, its width and its shape."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

# Narrower than this nothing is left to tell apart; wider than the box nothing is gained.
_NARROWEST, _WIDEST = 1e-12, 1.0
# Longest and shortest axis of the shape, squared.
_ROUNDEST = 1e14


class _Rates(NamedTuple):
    """How fast each part of a cloud learns, from the number of points and of dimensions."""

    weights: Array
    counted: float
    path: float
    damping: float
    rank_path: float
    one: float
    many: float
    length: float


def _rates(points: int, width: int) -> _Rates:
    """Return the usual rates of the strategy, as the tutorial gives them."""
    better = points // 2
    raw = np.log((points + 1) / 2.0) - np.log(np.arange(1, better + 1))
    weights = raw / raw.sum()
    counted = float(1.0 / (weights**2).sum())
    path = (counted + 2.0) / (width + counted + 5.0)
    damping = 1.0 + path + 2.0 * max(0.0, float(np.sqrt((counted - 1.0) / (width + 1.0))) - 1.0)
    rank_path = (4.0 + counted / width) / (width + 4.0 + 2.0 * counted / width)
    one = 2.0 / ((width + 1.3) ** 2 + counted)
    many = 2.0 * (counted - 2.0 + 1.0 / counted) / ((width + 2.0) ** 2 + counted)
    length = float(np.sqrt(width) * (1.0 - 1.0 / (4.0 * width) + 1.0 / (21.0 * width**2)))
    return _Rates(weights, counted, path, damping, rank_path, one, min(1.0 - one, many), length)


class Cloud:
    """A normal cloud in the unit cube, with the covariance matrix adaptation of Hansen.

    `asked` gives points for standard normal deviates (n, d), `told` learns from their values.
    """

    def __init__(self, middle: Array, width: float, points: int) -> None:
        size = len(middle)
        self.middle, self.width = np.array(middle, dtype=np.float64), width
        self._shape, self._rates = np.eye(size), _rates(points, size)
        self._axes, self._lengths = np.eye(size), np.ones(size)
        self._path, self._rank_path = np.zeros(size), np.zeros(size)
        self._rounds = 0

    def asked(self, deviates: Array) -> Array:
        """Return points of the cloud, those outside of the cube brought back to its wall."""
        steps = deviates * self._lengths @ self._axes.T
        return np.asarray(np.clip(self.middle + self.width * steps, 0.0, 1.0))

    def told(self, points: Array, values: Array) -> None:
        """Move, stretch and turn the cloud by its better half."""
        rates = self._rates
        order = np.argsort(values, kind="stable")[: len(rates.weights)]
        steps = (points[order] - self.middle) / self.width
        step = rates.weights @ steps
        self._rounds += 1
        self.middle = self.middle + self.width * step
        self._learn_width(step)
        self._learn_shape(step, steps)

    def _learn_width(self, step: Array) -> None:
        rates = self._rates
        even = self._axes @ ((self._axes.T @ step) / self._lengths)
        self._path *= 1.0 - rates.path
        self._path += np.sqrt(rates.path * (2.0 - rates.path) * rates.counted) * even
        longer = float(np.linalg.norm(self._path)) / rates.length - 1.0
        factor = float(np.exp(min(rates.path / rates.damping * longer, 1.0)))
        self.width = float(np.clip(self.width * factor, _NARROWEST, _WIDEST))

    def _learn_shape(self, step: Array, steps: Array) -> None:
        rates, size = self._rates, len(self.middle)
        reach = np.linalg.norm(self._path) / np.sqrt(
            1.0 - (1.0 - rates.path) ** (2.0 * self._rounds)
        )
        is_calm = float(reach < (1.4 + 2.0 / (size + 1.0)) * rates.length)
        gain = np.sqrt(rates.rank_path * (2.0 - rates.rank_path) * rates.counted)
        self._rank_path = (1.0 - rates.rank_path) * self._rank_path + is_calm * gain * step
        lost = (1.0 - is_calm) * rates.rank_path * (2.0 - rates.rank_path)
        kept = 1.0 - rates.one - rates.many + rates.one * lost
        self._shape = (
            kept * self._shape
            + rates.one * np.outer(self._rank_path, self._rank_path)
            + rates.many * (steps.T * rates.weights) @ steps
        )
        squares, self._axes = np.linalg.eigh(0.5 * (self._shape + self._shape.T))
        least = max(float(squares.max()), 1e-300) / _ROUNDEST
        self._lengths = np.sqrt(np.maximum(squares, least))
