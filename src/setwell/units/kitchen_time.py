"""Times as a kitchen clock tells them: no closer than they are known, ranges never narrowed."""

import math

from setwell.units.duration import duration_print

# Up to so many minutes, in steps of so many.
_STEPS = ((5.0, 0.5), (60.0, 1.0), (600.0, 5.0), (math.inf, 15.0))
# A range that ends on a step to within a rounding error is not moved to the next one.
_ROUNDING = 1e-6


def time_print(minutes: float) -> str:
    """Return a time in half minutes, minutes, fives or quarters of an hour.

    >>> time_print(48.2), time_print(2.6), time_print(127.0)
    ('48 min', '2.5 min', '2 h 5 min')
    """
    step = _step(minutes)
    return duration_print(max(round(minutes / step) * step, 0.0))


def time_range_print(low: float | None, high: float | None) -> str:
    """Return the range of a time, rounded outward; None is open.

    >>> time_range_print(35.2, 70.4), time_range_print(12.0, None)
    ('35 min to 1 h 15 min', '12 min, or never')
    """
    if low is None:
        return "open"
    first = duration_print(_down(low))
    if high is None:
        return f"{first}, or never"
    last = duration_print(_up(high))
    return first if first == last else f"{first} to {last}"


def _step(minutes: float) -> float:
    return next(step for below, step in _STEPS if minutes < below)


def _down(minutes: float) -> float:
    step = _step(minutes)
    return max(math.floor(minutes / step + _ROUNDING) * step, 0.0)


def _up(minutes: float) -> float:
    step = _step(minutes)
    return math.ceil(minutes / step - _ROUNDING) * step
