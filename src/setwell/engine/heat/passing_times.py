"""When a course passes a temperature for good, with the doubt of both."""

import math

import numpy as np
from numpy.typing import NDArray

from setwell.engine.heat.course import Course
from setwell.engine.material import Span

Array = NDArray[np.float64]


def passed_s(seconds: Array, celsius: Array, level: float) -> float | None:
    """Return when a course is down at a level for good [s]; 0 if always, None if never."""
    above = np.flatnonzero(celsius > level)
    if len(above) == 0:
        return float(seconds[0])
    last = int(above[-1])
    if last == len(celsius) - 1:
        return None
    drop = celsius[last] - celsius[last + 1]
    part = (celsius[last] - level) / drop if drop > 0 else 1.0
    return float(seconds[last] + part * (seconds[last + 1] - seconds[last]))


def passing_minutes(course: Course, level: Span) -> tuple[float | None, float | None, float | None]:
    """Return when a cooling course passes a level: middle, low and high [min].

    Doubt of the course and doubt of the level are put together as the root of the sum of squares
    of the logarithms. A high end of None may never come.
    """
    middle = _minutes(course, course.celsius, level.value)
    early = (
        _minutes(course, course.low_c, level.value),
        _minutes(course, course.celsius, level.high),
    )
    late = (
        _minutes(course, course.high_c, level.value),
        _minutes(course, course.celsius, level.low),
    )
    if middle is None:
        known = [one for one in early if one is not None]
        return None, (min(known) if known else None), None
    return middle, _joined(middle, early), _joined(middle, late)


def _minutes(course: Course, celsius: Array, level: float) -> float | None:
    found = passed_s(course.seconds, celsius, level)
    return None if found is None else found / 60.0


def _joined(middle: float, ends: tuple[float | None, float | None]) -> float | None:
    """Return the joint end of two doubts about one time."""
    if any(end is None for end in ends):
        return None
    known = [float(end) for end in ends if end is not None]
    if middle <= 0.0 or min(known) <= 0.0:
        return min(known) if min(known) < middle else max(known)
    away = math.sqrt(sum(math.log(end / middle) ** 2 for end in known))
    return middle * math.exp(math.copysign(away, sum(known) - 2.0 * middle))
