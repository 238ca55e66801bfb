"""The cooling clock: when it starts, when a temperature is reached, what is left."""

from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from setwell.science.lethality.clocks import (
    first_fall_below,
    last_time_above,
    stretches_at_or_above,
    time_within,
)
from setwell.units.temperature import KELVIN_OFFSET

Array = NDArray[np.float64]
# Rounding of a time [s] and of a converted temperature [K].
_CLOCK_S, _ROUNDING_K = 1e-6, 1e-9


class Arrival(StrEnum):
    """How a course stands to a limit."""

    IN_TIME = "in time"
    LATE = "late"
    OPEN = "open"


@dataclass(frozen=True, slots=True)
class Stage:
    """One limit on one curve: how long it took, or is under way, by the clock [s].

    With `is_start_seen` False the clock had started before the first reading, so `used_s` is at
    least what it took. `is_started` False: the food is still hot at the end.
    """

    arrival: Arrival
    used_s: float
    limit_s: float
    is_reached: bool
    is_start_seen: bool = True
    is_started: bool = True
    # What of it lay before the hottest moment.
    before_s: float = 0.0

    @property
    def left_s(self) -> float:
        """How much of the limit is left."""
        return self.limit_s - self.used_s


@dataclass(frozen=True, slots=True)
class Clock:
    """A cooling clock on one curve: its start and what had run before it [s]."""

    start_s: float
    before_s: float
    is_start_seen: bool


def clock_start(seconds: Array, kelvin: Array, hot_c: float) -> Clock | None:
    """Return the clock that starts where the food falls through a temperature.

    It is the fall after the hottest moment; time spent below that temperature before, once the
    food had been hot, counts as well. None: it is still hot at the end. Food that was never hot
    in this record was so before it, and the clock runs from the first reading at least.
    """
    hot = hot_c + KELVIN_OFFSET - _ROUNDING_K
    if kelvin.max() < hot:
        return Clock(float(seconds[0]), 0.0, is_start_seen=False)
    peak = float(seconds[np.flatnonzero(kelvin == kelvin.max())[-1]])
    start = first_fall_below(seconds, kelvin, hot, since=peak)
    if np.isnan(start):
        return None
    first = float(stretches_at_or_above(seconds, kelvin, hot).begins[0])
    return Clock(start, _cold_between(seconds, kelvin, first, peak, hot), is_start_seen=True)


def _cold_between(seconds: Array, kelvin: Array, begin: float, end: float, hot: float) -> float:
    """Return the time below a temperature within a span."""
    inside = (seconds > begin) & (seconds < end)
    times = np.concatenate([[begin], seconds[inside], [end]])
    return time_within(times, np.interp(times, seconds, kelvin), low=-np.inf, high=hot)


def stage_of(
    seconds: Array, kelvin: Array, clock: Clock | None, *, level_c: float, limit_s: float,
    window_s: float,
) -> Stage:  # fmt: skip
    """Return how a curve stands to one limit.

    A food that warms up again within the window has arrived when it comes down the last time.
    """
    if clock is None:
        return Stage(Arrival.OPEN, 0.0, limit_s, is_reached=False, is_started=False)
    until = clock.start_s + max(window_s - clock.before_s, 0.0)
    level = level_c + KELVIN_OFFSET + _ROUNDING_K
    after = last_time_above(seconds, kelvin, level, until=until)
    is_reached = bool(np.isfinite(after) or after == -np.inf)
    end = min(until, float(seconds[-1]))
    arrived = max(after, clock.start_s) if is_reached else end
    used = arrived - clock.start_s + clock.before_s
    is_late = used > limit_s + _CLOCK_S
    if not is_reached and until < float(seconds[-1]):
        # Still warmer when the window closes, with readings that go on.
        is_late = True
        used = max(used, _late_arrival(seconds, kelvin, level, until) - clock.start_s
                   + clock.before_s)  # fmt: skip
    in_time = is_reached and clock.is_start_seen
    arrival = Arrival.LATE if is_late else Arrival.IN_TIME if in_time else Arrival.OPEN
    return Stage(arrival, used, limit_s, is_reached, clock.is_start_seen, before_s=clock.before_s)


def _late_arrival(seconds: Array, kelvin: Array, level: float, since: float) -> float:
    """Return when a late food gets there; the end of the readings when it never does."""
    keep = seconds > since
    times = np.concatenate([[since], seconds[keep]])
    curve = np.interp(times, seconds, kelvin)
    colder = np.flatnonzero(curve <= level)
    if not len(colder):
        return float(times[-1])
    fall = first_fall_below(times, curve, level)
    return float(fall) if np.isfinite(fall) else float(times[colder[0]])
