"""A log with more than one heating: a second batch, or a probe that was checked or moved."""

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from setwell.engine.heat.course import Course
from setwell.engine.probe.results import Array, Gap
from setwell.engine.safety.results import Ruling, SafetyCheck
from setwell.units import duration_print

# What had been so warm, fell to the cold and gets warmer than a room again, by so much, is heated
# anew: it may be another batch (our judgment) [°C].
_WARM_C, _COLD_C, _AGAIN_C, _RISE_C = 45.0, 40.0, 35.0, 15.0
# No pot falls so far in so short a time: the probe was moved, or something cold went in
# (our judgment) [°C, s].
_SUDDEN_C, _SUDDEN_S, _SUDDEN_RISE_C = 20.0, 60.0, 2.0

Judge = Callable[[Course], tuple[SafetyCheck, ...]]


class Begin(NamedTuple):
    """When a heating begins anew, and whether the batch had been cold: it may be another."""

    second: float
    is_cold: bool


def heatings_begin(coldest: Course, gaps: tuple[Gap, ...] = ()) -> tuple[Begin, ...]:
    """Return when a heating begins anew after an earlier one [s].

    What gets warmer after a gap may have been cold in it.
    """
    celsius, seconds = coldest.celsius, coldest.seconds
    minute_ago = np.interp(seconds - _SUDDEN_S, seconds, celsius)
    # Within the minute the hottest of a fast log may lie later than its begin.
    before = np.maximum(minute_ago, np.concatenate([celsius[:1], celsius[:-1]]))
    steps = np.diff(seconds, prepend=seconds[0])
    before = np.where(steps <= _SUDDEN_S, before, minute_ago)
    is_sudden = (before - celsius >= _SUDDEN_C) & (before >= _WARM_C)
    ends = [gap.end_s for gap in gaps if gap.length_s >= _SUDDEN_S]
    after = set(np.searchsorted(seconds, ends).tolist())
    return tuple(
        Begin(float(seconds[at]), float(celsius[at]) < _COLD_C)
        for at in _troughs(celsius, is_sudden, after)
    )


def _troughs(celsius: Array, is_sudden: NDArray[np.bool_], after: set[int]) -> list[int]:
    found: list[int] = []
    was_hot = fell = False
    low = 0
    for at, (value, sudden) in enumerate(zip(celsius.tolist(), is_sudden.tolist(), strict=True)):
        if value < celsius[low] or not was_hot or (at in after and not fell):
            low = at
        fell = fell or (was_hot and at in after)
        fell = fell or sudden
        rise = value - float(celsius[low])
        is_new = float(celsius[low]) < _COLD_C and rise >= _RISE_C
        if was_hot and value >= _AGAIN_C and (is_new or (fell and rise >= _SUDDEN_RISE_C)):
            found.append(low)
            was_hot = fell = False
            low = at
        was_hot = was_hot or value >= _WARM_C
        if not fell and value >= _WARM_C and value >= float(celsius[low]):
            low = at
    return found


def heated_each_time(
    checks: tuple[SafetyCheck, ...], course: Course, begins: tuple[Begin, ...], judge: Judge
) -> tuple[SafetyCheck, ...]:
    """Return the checks of a course; what is met in some of its heatings only is not proven.

    Of one batch the last heating counts: all of it is in the pot by then.
    """
    first, last = float(course.seconds[0]), float(course.seconds[-1])
    begins = tuple(one for one in begins if first < one.second < last)
    if not begins or all(check.ruling is not Ruling.PASS for check in checks):
        return checks
    # The last heating of a batch ends where another batch begins, or the log.
    starts = pairwise((Begin(first, is_cold=True), *begins, Begin(last, is_cold=True)))
    parts = [
        {check.key: check.ruling for check in judge(_between(course, one.second, after.second))}
        for one, after in starts
        if after.is_cold
    ]
    told = ", ".join(duration_print((one.second - first) / 60.0) for one in begins[:3])
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
        action="Give each batch, and each place of a probe that was moved, a file of its own. "
        "Where egg went in between, say when.",
    )


def _between(course: Course, begin: float, end: float) -> Course:
    inside = course.seconds[(course.seconds > begin) & (course.seconds < end)]
    return course.at(np.concatenate([[begin], inside, [end]]))
