"""Courses for the verdicts: where nothing was measured, the line is as wide as it could be."""

from dataclasses import replace

import numpy as np

from setwell.engine.heat.course import Course
from setwell.engine.probe.results import Array, CleanProbe

# A gap begins and ends this long after and before the samples beside it [s].
_EDGE_S = 1e-3
# Nothing is killed and nothing dissolves at this temperature: what a gap counts for at worst.
_NOTHING_C = 0.0
# A small pot on full power warms by about this much, and boils here (our judgment) [°C/s, °C].
_FASTEST_C_S, _BOILING_C = 1.0, 100.0
# A batch falls and warms no faster than this by itself (our judgment) [°C/s].
_FALLS_C_S, _RISES_C_S = 0.1, 0.2
# Just below the temperature from which a cooling counts.
_BELOW_C = 0.1
# Colder than anything that a heating is asked for.
_COLD_C = 25.0


def heating_course(probe: CleanProbe) -> Course | None:
    """Return the course with gaps that count for nothing at worst, and at best for full power."""
    course = probe.course
    if course is None or not probe.gaps:
        return course
    before, after = _beside(probe, course)
    lengths = np.array([gap.length_s for gap in probe.gaps])
    cold = np.full(len(lengths), min(_NOTHING_C, float(course.low_c.min())))
    # Up and down again at full power; water boils off what is more.
    peak = (before.high_c + after.high_c + _FASTEST_C_S * lengths) / 2.0
    most = max(_BOILING_C, float(course.high_c.max()))
    return _with_gaps(probe, course, low=cold, middle=cold, high=np.minimum(peak, most))


def cooling_course(probe: CleanProbe, *, hot_c: float, at_worst: bool) -> Course | None:
    """Return the course with gaps that took as long as can be below `hot_c`, or as short.

    The clock of a cooling starts there. At worst a gap fell below it at once and then stayed
    warm; at best it stayed hot and was cold at once.
    """
    course = probe.course
    if course is None or not probe.gaps:
        return course
    before, after = _beside(probe, course)
    lengths = np.array([gap.length_s for gap in probe.gaps])

    def fill(begin: Array, end: Array, known: Array) -> Array:
        warm, cold = np.maximum(begin, end), np.minimum(begin, end)
        falls = (begin >= hot_c) & (end < hot_c)
        stays_cold = warm < hot_c
        if not at_worst:
            at_best = np.where(stays_cold, cold, warm)
            # Never seen hot: it may have been hot in a gap, and cold again at once.
            may = np.flatnonzero(_FASTEST_C_S * lengths > hot_c - begin)
            if float(known.max()) < hot_c and len(may):
                at_best[may[-1]] = hot_c + _BELOW_C
            return at_best
        rises = (begin < hot_c) & (end >= hot_c)
        # Hot before and after: in a long gap it may have been cold and heated again.
        away = (begin - hot_c) / _FALLS_C_S + (end - hot_c) / _RISES_C_S
        dips = (cold >= hot_c) & (lengths > away)
        return np.where(falls | dips, hot_c - _BELOW_C, np.where(rises, cold, warm))

    return _with_gaps(
        probe,
        course,
        low=fill(before.low_c, after.low_c, course.low_c),
        middle=fill(before.celsius, after.celsius, course.celsius),
        high=fill(before.high_c, after.high_c, course.high_c),
    )


def _beside(probe: CleanProbe, course: Course) -> tuple[Course, Course]:
    """Return the course right before and right after each gap."""
    starts = np.array([gap.start_s for gap in probe.gaps])
    ends = np.array([gap.end_s for gap in probe.gaps])
    return course.at(starts), course.at(ends)


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
