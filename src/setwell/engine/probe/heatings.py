"""A log with more than one heating: a second batch, or a probe that was checked or moved."""

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

import numpy as np

from setwell.engine.heat.course import Course
from setwell.engine.probe.results import Array
from setwell.engine.safety.results import Ruling, SafetyCheck
from setwell.units import duration_print

# What had been so hot, fell to the cold and warms by so much again is heated anew (our
# judgment) [°C].
_HOT_C, _COLD_C, _RISE_C, _WARM_C = 57.0, 40.0, 15.0, 45.0
# No pot falls so far in so short a time: the probe was moved, or something cold went in
# (our judgment) [°C, s].
_SUDDEN_C, _SUDDEN_S, _SUDDEN_RISE_C = 20.0, 60.0, 2.0

Judge = Callable[[Course], tuple[SafetyCheck, ...]]


def heatings_begin(coldest: Course) -> tuple[float, ...]:
    """Return when a heating begins anew after an earlier one [s]."""
    celsius, seconds = coldest.celsius, coldest.seconds
    minute_ago = np.interp(seconds - _SUDDEN_S, seconds, celsius)
    # Within the minute the hottest of a fast log may lie later than its begin.
    before = np.maximum(minute_ago, np.concatenate([celsius[:1], celsius[:-1]]))
    steps = np.diff(seconds, prepend=seconds[0])
    before = np.where(steps <= _SUDDEN_S, before, minute_ago)
    is_sudden = (before - celsius >= _SUDDEN_C) & (before >= _HOT_C)
    return tuple(float(seconds[at]) for at in _troughs(celsius, is_sudden))


def _troughs(celsius: Array, is_sudden: np.ndarray[tuple[int], np.dtype[np.bool_]]) -> list[int]:
    found: list[int] = []
    was_hot = fell = False
    low = 0
    for at, (value, sudden) in enumerate(zip(celsius.tolist(), is_sudden.tolist(), strict=True)):
        if value < celsius[low] or not was_hot:
            low = at
        fell = fell or sudden
        rise = value - float(celsius[low])
        is_new = float(celsius[low]) < _COLD_C and rise >= _RISE_C
        if was_hot and value >= _WARM_C and (is_new or (fell and rise >= _SUDDEN_RISE_C)):
            found.append(low)
            was_hot = fell = False
            low = at
        was_hot = was_hot or value >= _HOT_C
        if not fell and was_hot and value >= _HOT_C and value >= float(celsius[low]):
            low = at
    return found


def heated_each_time(
    checks: tuple[SafetyCheck, ...], course: Course, begins: tuple[float, ...], judge: Judge
) -> tuple[SafetyCheck, ...]:
    """Return the checks of a course; what is met in some of its heatings only is not proven."""
    begins = tuple(one for one in begins if course.seconds[0] < one < course.seconds[-1])
    if not begins or all(check.ruling is not Ruling.PASS for check in checks):
        return checks
    ends = (float(course.seconds[0]), *begins, float(course.seconds[-1]))
    parts = [
        {check.key: check.ruling for check in judge(_between(course, begin, end))}
        for begin, end in pairwise(ends)
    ]
    told = ", ".join(duration_print((one - ends[0]) / 60.0) for one in begins[:3])
    return tuple(
        check
        if check.ruling is not Ruling.PASS
        or all(part.get(check.key) is Ruling.PASS for part in parts)
        else _open(check, told)
        for check in checks
    )


def _open(check: SafetyCheck, told: str) -> SafetyCheck:
    return replace(
        check,
        ruling=Ruling.CANNOT_TELL,
        text=f"{check.text} But it was heated again after {told}, and not every heating meets it: "
        "a second batch, something cold that went in, or a probe that was moved or tried in "
        "boiling water.",
        action="Give each batch a file of its own. Where egg went in between, say when.",
    )


def _between(course: Course, begin: float, end: float) -> Course:
    inside = course.seconds[(course.seconds > begin) & (course.seconds < end)]
    return course.at(np.concatenate([[begin], inside, [end]]))
