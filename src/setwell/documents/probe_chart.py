"""The chart of a probe log: the line that counts, what was left out, and what was computed."""

import itertools

import numpy as np

from setwell.documents.course_chart import CourseChart, CourseLine, CourseMark
from setwell.documents.drawing import ChartTable
from setwell.engine.heat.course import Course
from setwell.engine.probe.results import CleanLog, CleanProbe, Flag, LogJudgement
from setwell.units import duration_print, temperature_print

# More points than this cannot be told apart on paper.
_POINTS, _DOTS = 300, 80
# Left out, yet with a place on the paper.
_SHOWN = int(Flag.SPIKE | Flag.DUPLICATE | Flag.BACKWARD)
_MOST_LINES = 3
_ROWS = 13
# Dots farther from all lines than this would press them flat [°C].
_BEYOND_C = 15.0
# What cooling and hot holding ask for, drawn across for the eye [°C].
_MARKS = (CourseMark(57.0, "57 °C"), CourseMark(21.0, "21 °C"), CourseMark(5.0, "5 °C"))


def probe_chart(found: LogJudgement, *, title: str) -> CourseChart | None:
    """Return the chart of a log; None where there is nothing to draw."""
    clean = found.clean
    lines = [_line(probe) for probe in clean.probes[:_MOST_LINES] if probe.course is not None]
    for one in found.compared:
        end = max(float(probe.course.seconds[-1]) for probe in clean.probes if probe.course)
        lines.append(_computed(one.predicted, f"Computed, {one.place.lower()}", one.start_s, end))
    if not lines:
        return None
    values = [value for line in lines for value in line.celsius if np.isfinite(value)]
    dots = _left_out(clean, min(values) - _BEYOND_C, max(values) + _BEYOND_C)
    marks = tuple(mark for mark in _MARKS if min(values) <= mark.celsius <= max(values))
    return CourseChart(title, (*lines, *dots), marks)


def probe_table(found: LogJudgement) -> ChartTable:
    """Return what each probe read at even times; a gap is told, not bridged."""
    probes = [(one, one.course) for one in found.clean.probes if one.course is not None]
    starts = [float(course.seconds[0]) for _, course in probes]
    ends = [float(course.seconds[-1]) for _, course in probes]
    times = np.linspace(min(starts, default=0.0), max(ends, default=0.0), _ROWS).tolist()
    rows = tuple(
        (duration_print(second / 60.0), *(_cell(probe, course, second) for probe, course in probes))
        for second in times
    )
    return ChartTable(("Time", *(probe.name for probe, _ in probes)), rows)


def _cell(probe: CleanProbe, course: Course, second: float) -> str:
    is_inside = course.seconds[0] <= second <= course.seconds[-1]
    if not is_inside or any(gap.start_s < second < gap.end_s for gap in probe.gaps):
        return "not known"
    value = float(np.interp(second, course.seconds, course.celsius))
    return temperature_print(round(value, 1))


def _line(probe: CleanProbe) -> CourseLine:
    """Return the cleaned line, broken where nothing is known."""
    assert probe.course is not None  # noqa: S101 - the caller looked
    course = probe.course
    kept = _chosen(course.celsius)
    seconds, celsius = course.seconds[kept], course.celsius[kept]
    starts = [gap.start_s for gap in probe.gaps]
    middles = np.array([(gap.start_s + gap.end_s) / 2 for gap in probe.gaps])
    if starts:
        seconds = np.concatenate([seconds, middles])
        celsius = np.concatenate([celsius, np.full(len(middles), np.nan)])
        order = np.argsort(seconds, kind="stable")
        seconds, celsius = seconds[order], celsius[order]
    return CourseLine(probe.name, _floats(seconds / 60.0), _floats(celsius))


def _chosen(celsius: np.ndarray[tuple[int], np.dtype[np.float64]]) -> list[int]:
    """Return the points to draw: of each stretch the lowest and the highest, and both ends."""
    count = len(celsius)
    if count <= _POINTS:
        return list(range(count))
    edges = np.linspace(0, count, _POINTS // 2 + 1).astype(int)
    chosen = {0, count - 1}
    for first, last in itertools.pairwise(edges):
        part = celsius[first:last]
        chosen |= {int(first + part.argmin()), int(first + part.argmax())}
    return sorted(chosen)


def _left_out(clean: CleanLog, low: float, high: float) -> list[CourseLine]:
    """Return the samples that were read and do not count, as dots; wild ones leave the paper."""
    times: list[float] = []
    values: list[float] = []
    for probe, raw in zip(clean.probes, clean.celsius, strict=True):
        with np.errstate(invalid="ignore"):
            is_near = (raw >= low) & (raw <= high)
        at = np.flatnonzero((probe.flags & _SHOWN > 0) & is_near)
        at = at[np.isfinite(clean.seconds[at])]
        at = at[:: max(1, len(at) // _DOTS)]
        times += (clean.seconds[at] / 60.0).tolist()
        values += raw[at].tolist()
    if not times:
        return []
    order = np.argsort(times, kind="stable")
    return [
        CourseLine(
            "Read, left out", _floats(np.array(times)[order]), _floats(np.array(values)[order]),
            is_measured=True,
        )
    ]  # fmt: skip


def _computed(course: Course, name: str, start_s: float, end_s: float) -> CourseLine:
    """Return a computed course where the log shows the same place."""
    inside = course.seconds + start_s <= end_s
    most = max(int(inside.sum()), 2)
    parts = (course.celsius, course.low_c, course.high_c)
    celsius, low, high = (_floats(part[:most]) for part in parts)
    return CourseLine(name, _floats((course.seconds[:most] + start_s) / 60.0), celsius, low, high)


def _floats(values: np.ndarray[tuple[int], np.dtype[np.float64]]) -> tuple[float, ...]:
    return tuple(float(value) for value in values)
