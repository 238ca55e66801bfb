"""The three curves that a verdict reads: low, middle and high, in kelvin."""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from setwell.engine.heat.course import Course, coldest_of, warmest_of
from setwell.errors import InputError
from setwell.provenance import Citation, Evidence, Grade
from setwell.units import temperature_change_print
from setwell.units.temperature import KELVIN_OFFSET

Array = NDArray[np.float64]

# What a kitchen probe may be off when nobody says (our judgment) [°C].
PROBE_ERROR_C = 1.0
_PROBE = Citation("common_practice", "common practice, no source", Grade.ESTIMATED)
_COMPUTED = "Computed, not measured: a probe must prove it. "


@dataclass(frozen=True, slots=True)
class Edges:
    """One place over time [s], [K]; for a verdict, one of the outer two has to hold."""

    place: str
    seconds: Array
    low: Array
    middle: Array
    high: Array
    is_measured: bool
    is_error_assumed: bool
    evidence: Evidence
    # What a computed course leaves out that could make it worse.
    left_out: str = ""

    @property
    def three(self) -> tuple[Array, Array, Array]:
        """Low, middle and high."""
        return self.low, self.middle, self.high

    @property
    def preface(self) -> str:
        """What is said before a verdict on a computed course."""
        return "" if self.is_measured else _COMPUTED

    @property
    def remark(self) -> str:
        """What is said after a verdict: where, and how far the curve may be off."""
        if self.is_error_assumed:
            error = temperature_change_print(PROBE_ERROR_C)
            return f" Read at the {self.place}, with the probe taken to be off by up to {error}."
        return f" Read at the {self.place}."


def coldest_edges(courses: tuple[Course, ...]) -> Edges:
    """Return the coldest place at every moment: what counts when heating."""
    return _edges(coldest_of(_checked(courses)), is_error_assumed=any(map(_is_untold, courses)))


def warmest_edges(courses: tuple[Course, ...]) -> Edges:
    """Return the warmest place at every moment: what counts when cooling."""
    return _edges(warmest_of(_checked(courses)), is_error_assumed=any(map(_is_untold, courses)))


def _checked(courses: tuple[Course, ...]) -> tuple[Course, ...]:
    """Return the courses with the error that a measured one was not told with."""
    if not courses:
        raise InputError(
            "There is no temperature course to judge.",
            hint="Import a probe log, or give the pot or the mold.",
        )
    for one in courses:
        _refuse(one)
    start = max(float(one.seconds[0]) for one in courses)
    if start > min(float(one.seconds[-1]) for one in courses):
        raise InputError(
            "The probes were not read at the same time, so no moment shows all of them.",
            hint="Judge each of them by itself.",
        )
    return tuple(_widened(one) for one in courses)


def course_since(course: Course, since_s: float) -> Course:
    """Return the rest of a course from some moment on."""
    if since_s > float(course.seconds[-1]):
        raise InputError(
            f"The course “{course.place}” ends before the moment it is to be counted from.",
            hint="Check the time at which the egg went in.",
        )
    later = course.seconds[course.seconds > since_s]
    start = max(since_s, float(course.seconds[0]))
    return course.at(np.concatenate([[start], later]))


def _refuse(course: Course) -> None:
    curves = (course.celsius, course.low_c, course.high_c)
    if len(course.seconds) == 0 or any(len(curve) != len(course.seconds) for curve in curves):
        raise InputError(f"The course “{course.place}” has no temperature for every time.")
    if not all(np.isfinite(curve).all() for curve in (course.seconds, *curves)):
        raise InputError(
            f"The course “{course.place}” has gaps.",
            hint="Leave out the times without a reading; a gap is never filled in by itself.",
        )
    if np.any(np.diff(course.seconds) < 0):
        raise InputError(
            f"The times of the course “{course.place}” run backward.", hint="Sort them by time."
        )


def _is_untold(course: Course) -> bool:
    told = np.any(course.high_c > course.celsius) or np.any(course.low_c < course.celsius)
    return course.is_measured and not told


def _widened(course: Course) -> Course:
    """Return the course with its edges on the right sides, and an error if none was told."""
    error = PROBE_ERROR_C if _is_untold(course) else 0.0
    return replace(
        course,
        low_c=np.minimum(course.low_c, course.celsius) - error,
        high_c=np.maximum(course.high_c, course.celsius) + error,
        evidence=(*course.evidence, _PROBE) if error else course.evidence,
    )


def _edges(course: Course, *, is_error_assumed: bool) -> Edges:
    return Edges(
        course.place,
        np.asarray(course.seconds, dtype=np.float64),
        course.low_c + KELVIN_OFFSET,
        course.celsius + KELVIN_OFFSET,
        course.high_c + KELVIN_OFFSET,
        course.is_measured,
        is_error_assumed,
        course.evidence,
        course.left_out,
    )
