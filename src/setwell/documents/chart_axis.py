"""One axis of a chart: where a value lies on the paper, and which round numbers stand beside it."""

import math
from collections.abc import Iterable
from dataclasses import dataclass

# Steps a reader can count in.
_STEPS = (1.0, 2.0, 2.5, 5.0, 10.0)


@dataclass(frozen=True, slots=True)
class Axis:
    """Values from `low` to `high` drawn from `start` to `end`, in drawing units."""

    low: float
    high: float
    start: float
    end: float

    def at(self, value: float) -> float:
        """Return where a value lies, also beyond the ends."""
        share = (value - self.low) / (self.high - self.low)
        return self.start + share * (self.end - self.start)

    def holds(self, value: float) -> bool:
        """True when a value lies between the ends."""
        return self.low <= value <= self.high

    def clip(self, value: float) -> float:
        """Return the nearest value between the ends."""
        return min(max(value, self.low), self.high)

    def ticks(self, count: int = 5) -> tuple[float, ...]:
        """Return about so many round numbers between the ends.

        >>> Axis(0.0, 30.0, 0.0, 300.0).ticks()
        (0.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0)
        """
        step = nice_step(self.high - self.low, count)
        first = math.ceil(self.low / step - 1e-9)
        last = math.floor(self.high / step + 1e-9)
        return tuple(round(n * step, 12) for n in range(first, last + 1))


def nice_step(width: float, count: int) -> float:
    """Return a round step that divides a width into about so many parts."""
    rough = width / max(count, 1)
    power = 10.0 ** math.floor(math.log10(rough))
    return min((step * power for step in _STEPS), key=lambda step: abs(math.log(step / rough)))


def limits_around(values: Iterable[float], *, count: int = 5) -> tuple[float, float]:
    """Return round limits around all finite values; 0 to 1 when there are none."""
    finite = [value for value in values if math.isfinite(value)]
    if not finite:
        return 0.0, 1.0
    low, high = min(finite), max(finite)
    if high - low <= 1e-9 * max(abs(low), abs(high), 1e-9):
        margin = 0.5 * abs(low) or 0.5
        low, high = low - margin, high + margin
    step = nice_step(high - low, count)
    return math.floor(low / step + 1e-9) * step, math.ceil(high / step - 1e-9) * step
