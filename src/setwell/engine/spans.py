"""Values with ranges for all candidates at once."""

from typing import NamedTuple, Self

import numpy as np
from numpy.typing import ArrayLike, NDArray

from setwell.provenance import Estimate, Evidence

Array = NDArray[np.float64]


class Spans(NamedTuple):
    """A value with its low and high bound, each of shape (n,)."""

    value: Array
    low: Array
    high: Array

    @classmethod
    def exact(cls, value: ArrayLike) -> Self:
        """Return spans without width."""
        array = np.asarray(value, dtype=np.float64)
        return cls(array, array, array)

    @classmethod
    def around(cls, value: ArrayLike, half_width: ArrayLike) -> Self:
        """Return spans of a value plus or minus a half width."""
        center = np.asarray(value, dtype=np.float64)
        half = np.asarray(half_width, dtype=np.float64)
        return cls(center, center - half, center + half)

    def scaled(self, factor: ArrayLike) -> "Spans":
        """Return the spans times a positive factor."""
        by = np.asarray(factor, dtype=np.float64)
        return Spans(self.value * by, self.low * by, self.high * by)

    def estimate(
        self,
        *,
        unit: str,
        model: str,
        evidence: Evidence = (),
        flags: tuple[str, ...] = (),
        row: int = 0,
    ) -> Estimate:
        """Return one candidate's value as an estimate."""
        value, low, high = (float(part[row]) for part in self)
        return Estimate(value, unit, low, high, model, evidence, flags)


def log_half_width(low: float, high: float) -> float:
    """Return half the width of a range on the natural log axis."""
    return float(np.log(high / low) / 2.0)
