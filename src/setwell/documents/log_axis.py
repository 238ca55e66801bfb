"""An axis on which equal steps are equal ratios, for values that span decades."""

import math
from collections.abc import Iterable
from dataclasses import dataclass

from setwell.documents.chart_axis import Axis
from setwell.errors import InputError

# Numbers that may stand in each decade, from few to many.
_LADDERS = ((1.0,), (1.0, 3.0), (1.0, 2.0, 5.0), tuple(float(n) for n in range(1, 10)))
# Round numbers that an axis may begin or end with.
_ENDS = (1.0, 2.0, 3.0, 5.0, 10.0)
# A point this near an end still has room for its mark [ratio].
_MARGIN = 1.05


@dataclass(frozen=True, slots=True)
class LogAxis(Axis):
    """Positive values from `low` to `high` drawn from `start` to `end`, in equal ratios."""

    def __post_init__(self) -> None:
        """Check that the ends are positive and in order."""
        if not 0.0 < self.low < self.high < math.inf:
            raise InputError(
                f"An axis of ratios cannot run from {self.low:g} to {self.high:g}.",
                hint="Give two positive ends, the lower one first.",
            )

    def at(self, value: float) -> float:
        """Return where a value lies, also beyond the ends.

        Zero lies far below; three decades under the axis stand for it.
        """
        kept = max(value, 1e-3 * self.low)
        share = math.log(kept / self.low) / math.log(self.high / self.low)
        return self.start + share * (self.end - self.start)

    def ticks(self, count: int = 5) -> tuple[float, ...]:
        """Return about so many round numbers between the ends.

        >>> LogAxis(0.1, 3.0, 0.0, 300.0).ticks()
        (0.1, 0.2, 0.5, 1.0, 2.0)
        """
        ladders = [self._rungs(ladder) for ladder in _LADDERS]
        found = min(ladders, key=lambda rungs: abs(len(rungs) - count))
        if len(found) >= 2:
            return found
        return Axis(self.low, self.high, self.start, self.end).ticks(count)

    def _rungs(self, ladder: tuple[float, ...]) -> tuple[float, ...]:
        first, last = math.floor(math.log10(self.low)), math.floor(math.log10(self.high))
        rungs = (_tidy(step, power) for power in range(first, last + 1) for step in ladder)
        edge = 1e-9
        return tuple(
            rung for rung in rungs if self.low * (1 - edge) <= rung <= self.high * (1 + edge)
        )


def log_limits(
    values: Iterable[float], low: float, high: float, *, margin: float = _MARGIN
) -> tuple[float, float]:
    """Return the wanted ends, moved out to round numbers where a value lies beyond them.

    >>> log_limits([0.05, 1.0], 0.1, 3.0)
    (0.03, 3.0)
    """
    for value in values:
        if not (math.isfinite(value) and value > 0.0):
            continue
        if value < low * margin:
            low = min(low, _round_below(value / margin))
        if value > high / margin:
            high = max(high, _round_above(value * margin))
    return low, high


def _round_below(value: float) -> float:
    power = math.floor(math.log10(value))
    return max(end for end in (_tidy(step, power) for step in _ENDS) if end <= value * (1 + 1e-9))


def _round_above(value: float) -> float:
    power = math.floor(math.log10(value))
    return min(end for end in (_tidy(step, power) for step in _ENDS) if end >= value * (1 - 1e-9))


def _tidy(step: float, power: int) -> float:
    # Dividing keeps 0.3 at 0.3 instead of 0.30000000000000004.
    return step * 10.0**power if power >= 0 else step / 10.0**-power
