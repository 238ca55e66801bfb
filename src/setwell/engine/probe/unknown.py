"""Courses for the verdicts: where nothing was measured, the line is as wide as it could be."""

from dataclasses import replace

import numpy as np

from setwell.engine.heat.course import Course
from setwell.engine.probe.results import Array, CleanProbe

# A gap begins and ends this long after and before the samples beside it [s].
_EDGE_S = 1e-3
# Nothing is killed and nothing dissolves at this temperature: what a gap counts for at worst.
_NOTHING_C = 0.0
# Colder than anything that a heating is asked for.
_COLD_C = 25.0


def heating_course(probe: CleanProbe) -> Course | None:
    """Return the course with gaps that count for nothing at worst, for its hottest at best."""
    course = probe.course
    if course is None or not probe.gaps:
        return course
    cold = min(_NOTHING_C, float(course.low_c.min()))
    many = len(probe.gaps)
    return _with_gaps(
        probe,
        course,
        low=np.full(many, cold),
        middle=np.full(many, cold),
        high=np.full(many, float(course.high_c.max())),
    )


def cooling_course(probe: CleanProbe) -> Course | None:
    """Return the course with gaps that did not cool at worst, and were cold at once at best."""
    course = probe.course
    if course is None or not probe.gaps:
        return course
    before, after = (
        course.at(np.array([getattr(gap, end) for gap in probe.gaps]))
        for end in ("start_s", "end_s")
    )
    warm = np.maximum(before.celsius, after.celsius)
    return _with_gaps(
        probe,
        course,
        low=np.minimum(before.low_c, after.low_c),
        middle=warm,
        high=np.maximum(before.high_c, after.high_c),
    )


def _with_gaps(
    probe: CleanProbe, course: Course, *, low: Array, middle: Array, high: Array
) -> Course:
    starts = np.array([gap.start_s + _EDGE_S for gap in probe.gaps])
    ends = np.array([gap.end_s - _EDGE_S for gap in probe.gaps])
    seconds = np.concatenate([course.seconds, starts, ends])
    order = np.argsort(seconds, kind="stable")

    def filled(curve: Array, fill: Array) -> Array:
        return np.concatenate([curve, fill, fill])[order]

    return replace(
        course,
        seconds=seconds[order],
        celsius=filled(course.celsius, middle),
        low_c=filled(course.low_c, low),
        high_c=filled(course.high_c, high),
    )


def thinned(course: Course) -> Course:
    """Return the same broken line with fewer points: those in the middle of a straight run."""
    if len(course.seconds) < 3:
        return course
    curves = (course.celsius, course.low_c, course.high_c)
    is_flat = np.ones(len(course.seconds) - 2, dtype=bool)
    for curve in curves:
        is_flat &= (curve[1:-1] == curve[:-2]) & (curve[1:-1] == curve[2:])
    keep = np.concatenate([[True], ~is_flat, [True]])
    return replace(
        course,
        seconds=course.seconds[keep],
        celsius=course.celsius[keep],
        low_c=course.low_c[keep],
        high_c=course.high_c[keep],
    )


def warm_part(course: Course) -> Course:
    """Return the course without the points inside its cold stretches: no heat rule reads them.

    A stretch keeps its ends, so nothing gets warmer than it was.
    """
    is_cold = course.high_c < _COLD_C
    inside = np.zeros(len(is_cold), dtype=bool)
    inside[1:-1] = is_cold[1:-1] & is_cold[:-2] & is_cold[2:]
    keep = ~inside
    return replace(
        course,
        seconds=course.seconds[keep],
        celsius=course.celsius[keep],
        low_c=course.low_c[keep],
        high_c=course.high_c[keep],
    )
