"""Temperature over time as plain SVG: computed courses with their ranges, measured ones as dots.

Colors and text sizes come from css/chart.css and css/process.css; line styles and shapes are in
the drawing itself, so nothing depends on color alone.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from setwell.documents.amounts import number_text, temperature_text
from setwell.documents.chart_axis import Axis, limits_around
from setwell.documents.drawing import (
    LEADING,
    ChartTable,
    LegendItem,
    drawing_key,
    legend,
    moved_apart,
    opened,
    scale,
    stacked,
    text_at,
)
from setwell.documents.line_chart import DASHES, Series, plotted
from setwell.engine.heat.course import Course
from setwell.errors import InputError
from setwell.units import duration_print, fahrenheit_from_celsius

_WIDTH, _HEIGHT = 520.0, 372.0
_LEFT, _RIGHT, _TOP, _BOTTOM = 50.0, 470.0, 30.0, 58.0
# A longer chart counts hours.
_HOURS_FROM_MIN = 180.0
# More points than this cannot be told apart on paper; dots are larger.
_POINTS_MOST, _DOTS_MOST = 160, 60
_ROWS = 9
_STYLES = tuple(DASHES)


@dataclass(frozen=True, slots=True)
class CourseLine:
    """One place over time; `low` and `high` are empty when no range is known."""

    place: str
    minutes: tuple[float, ...]
    celsius: tuple[float, ...]
    low: tuple[float, ...] = ()
    high: tuple[float, ...] = ()
    is_measured: bool = False

    def at(self, minutes: float) -> tuple[float, float, float] | None:
        """Return temperature, low and high at a time; None outside the line."""
        if not self.minutes[0] - 1e-9 <= minutes <= self.minutes[-1] + 1e-9:
            return None
        low, high = self.low or self.celsius, self.high or self.celsius
        value, least, most = (
            float(np.interp(minutes, self.minutes, part)) for part in (self.celsius, low, high)
        )
        # The line is broken where nothing is known.
        if not np.isfinite((value, least, most)).all():
            return None
        return value, least, most


@dataclass(frozen=True, slots=True)
class CourseMark:
    """A temperature that matters, drawn across."""

    celsius: float
    label: str


@dataclass(frozen=True, slots=True)
class CourseMoment:
    """A moment that matters, drawn from top to bottom."""

    minutes: float
    label: str


@dataclass(frozen=True, slots=True)
class CourseChart:
    """What the chart shows."""

    title: str
    lines: tuple[CourseLine, ...]
    marks: tuple[CourseMark, ...] = ()
    moments: tuple[CourseMoment, ...] = ()

    def __post_init__(self) -> None:
        """Refuse a chart without a point."""
        if not any(line.minutes for line in self.lines):
            raise InputError(
                "There is no temperature to draw.", hint="Give at least one course with points."
            )


def course_line(course: Course, *, name: str = "") -> CourseLine:
    """Return a course of the engine as a line, thinned to what paper can show."""
    most = _DOTS_MOST if course.is_measured else _POINTS_MOST
    chosen = np.unique(np.linspace(0, len(course.seconds) - 1, most).round().astype(int))
    minutes, celsius, low, high = (
        tuple(float(value) for value in part[chosen])
        for part in (course.seconds / 60.0, course.celsius, course.low_c, course.high_c)
    )
    has_range = any(b - a > 0.05 for a, b in zip(low, high, strict=True))
    return CourseLine(
        name or course.place, minutes, celsius, low if has_range else (),
        high if has_range else (), course.is_measured,
    )  # fmt: skip


def course_chart_svg(chart: CourseChart) -> str:
    """Return the chart as one `<svg>` element, ready to stand in a page."""
    items = [_legend_item(n, line) for n, line in enumerate(chart.lines, start=1)]
    named, height = legend(items, _LEFT, _RIGHT, 0.0)
    x_axis, places = _time_axis(chart)
    rows = 1 + max((row for _, _, row in places), default=-1)
    y_axis = _temperature_axis(chart, height + _TOP + rows * LEADING)
    per_unit = 60.0 if _in_hours(chart) else 1.0
    computed = tuple(
        Series(
            line.place, tuple(m / per_unit for m in line.minutes), line.celsius, _style(n),
            line.low, line.high,
        )
        for n, line in enumerate(chart.lines)
    )  # fmt: skip
    bottom = y_axis.start + _BOTTOM
    parts = [
        opened(
            "line-chart course-chart", chart.title, description(chart),
            key=drawing_key(chart.title), width=_WIDTH, height=bottom,
        ),
        *named,
        *_shifted_scale(x_axis, y_axis, _unit(chart), height),
        *_fahrenheit(y_axis, height),
        *plotted(_lines_only(chart, computed), x_axis, y_axis),
        *_dots(chart, computed, x_axis, y_axis),
        *_marks(chart.marks, x_axis, y_axis),
        *_moments(chart, x_axis, y_axis, places, per_unit),
        "</svg>",
    ]  # fmt: skip
    return "".join(parts)


def description(chart: CourseChart) -> str:
    """Return in words what the courses do, for who cannot see them."""
    said = ["Temperature over time."]
    for line in chart.lines:
        way = " (measured)" if line.is_measured else ""
        known = [n for n, value in enumerate(line.celsius) if np.isfinite(value)]
        if not known:
            said.append(f"{line.place}{way}: not known.")
            continue
        first, last = known[0], known[-1]
        said.append(
            f"{line.place}{way}: {temperature_text(line.celsius[first])} at "
            f"{duration_print(line.minutes[first])}, {temperature_text(line.celsius[last])} at "
            f"{duration_print(line.minutes[last])}."
        )
    said += [f"{mark.label}: {temperature_text(mark.celsius)}." for mark in chart.marks]
    said += [f"{one.label}: {duration_print(one.minutes)}." for one in chart.moments]
    return " ".join(said)


def course_chart_table(chart: CourseChart) -> ChartTable:
    """Return the temperatures at even times, and at every moment that matters."""
    start, end = _ends(chart)
    even = [start + n * (end - start) / (_ROWS - 1) for n in range(_ROWS)]
    named = {one.minutes: one.label for one in chart.moments}
    times = sorted({*even, *named})
    rows = []
    for minutes in times:
        said = duration_print(minutes)
        label = f"{said}: {named[minutes]}" if minutes in named else said
        rows.append((label, *(_cell(line, minutes) for line in chart.lines)))
    header = ("Time", *(line.place for line in chart.lines))
    return ChartTable(header, tuple(rows))


def _cell(line: CourseLine, minutes: float) -> str:
    found = line.at(minutes)
    if found is None:
        return "not known"
    value, low, high = found
    said = temperature_text(value)
    return said if round(low) == round(high) else f"{said}, {round(low)} to {round(high)} °C"


def _in_hours(chart: CourseChart) -> bool:
    start, end = _ends(chart)
    return end - start > _HOURS_FROM_MIN


def _unit(chart: CourseChart) -> str:
    return "Time, h" if _in_hours(chart) else "Time, min"


def _ends(chart: CourseChart) -> tuple[float, float]:
    times = [m for line in chart.lines for m in (line.minutes[0], line.minutes[-1])]
    start, end = min(times), max(times)
    return (start, end) if end > start else (start, start + 1.0)


def _time_axis(chart: CourseChart) -> tuple[Axis, list[tuple[float, str, int]]]:
    """Return the axis, and where the name of each moment stands above the plot."""
    start, end = _ends(chart)
    per_unit = 60.0 if _in_hours(chart) else 1.0
    axis = Axis(start / per_unit, end / per_unit, _LEFT, _RIGHT)
    shown = [one for one in chart.moments if start <= one.minutes <= end]
    places = stacked(
        [axis.at(one.minutes / per_unit) for one in shown], [one.label for one in shown], _RIGHT
    )
    return axis, places


def _temperature_axis(chart: CourseChart, top: float) -> Axis:
    values = [
        value for line in chart.lines for part in (line.celsius, line.low, line.high)
        for value in part
    ]  # fmt: skip
    low, high = limits_around([*values, *(mark.celsius for mark in chart.marks)])
    return Axis(low, high, top + _HEIGHT - _TOP - _BOTTOM, top)


def _shifted_scale(x_axis: Axis, y_axis: Axis, label: str, top: float) -> Iterable[str]:
    # The label of the left axis stands below the legend, not over it.
    *drawn, _ = scale(x_axis, y_axis, label, "")
    return [*drawn, text_at(6, top + 16, "°C", "label")]


def _fahrenheit(y_axis: Axis, top: float) -> Iterable[str]:
    low, high = (fahrenheit_from_celsius(value) for value in (y_axis.low, y_axis.high))
    axis = Axis(low, high, y_axis.start, y_axis.end)
    yield text_at(_RIGHT + 9, top + 16, "°F", "label")
    yield f'<path class="axis" d="M{_RIGHT:.1f} {y_axis.start:.1f}V{y_axis.end:.1f}"/>'
    for value in axis.ticks():
        y = axis.at(value)
        yield f'<path class="axis" d="M{_RIGHT:.1f} {y:.1f}h5"/>'
        yield text_at(_RIGHT + 9, y + 5, number_text(value), "tick")


def _style(n: int) -> str:
    return _STYLES[n % len(_STYLES)]


def _lines_only(chart: CourseChart, series: tuple[Series, ...]) -> tuple[Series, ...]:
    """Return the series with the measured ones emptied, so that numbers and colors stay."""
    return tuple(
        Series(one.name, (), (), one.style) if line.is_measured else one
        for line, one in zip(chart.lines, series, strict=True)
    )


def _dots(
    chart: CourseChart, series: Sequence[Series], x_axis: Axis, y_axis: Axis
) -> Iterable[str]:
    for n, (line, one) in enumerate(zip(chart.lines, series, strict=True), start=1):
        if not line.is_measured:
            continue
        for x, y in zip(one.x, one.y, strict=True):
            yield (
                f'<circle class="dot dot-{n}" cx="{x_axis.at(x):.1f}" cy="{y_axis.at(y):.1f}" '
                'r="3.5"/>'
            )


def _marks(marks: tuple[CourseMark, ...], x_axis: Axis, y_axis: Axis) -> Iterable[str]:
    shown = sorted((one for one in marks if y_axis.holds(one.celsius)), key=lambda m: -m.celsius)
    tops = moved_apart(
        [y_axis.at(one.celsius) - LEADING for one in shown], [LEADING] * len(shown),
        y_axis.end - LEADING, y_axis.start, gap=0.0,
    )  # fmt: skip
    for one, top in zip(shown, tops, strict=True):
        at = y_axis.at(one.celsius)
        yield f'<path class="mark" d="M{x_axis.start:.1f} {at:.1f}H{x_axis.end:.1f}"/>'
        yield text_at(x_axis.end - 4, top + 15, one.label, "note", "end")


def _moments(
    chart: CourseChart,
    x_axis: Axis,
    y_axis: Axis,
    places: list[tuple[float, str, int]],
    per_unit: float,
) -> Iterable[str]:
    shown = [one for one in chart.moments if x_axis.holds(one.minutes / per_unit)]
    for one, (x, anchor, row) in zip(shown, places, strict=True):
        top = y_axis.end - 8 - row * LEADING
        yield f'<path class="mark" d="M{x:.1f} {top:.1f}V{y_axis.start:.1f}"/>'
        shift = 4 if anchor == "start" else -4
        yield text_at(x + shift, top + 2, one.label, "note", anchor)


def _legend_item(number: int, line: CourseLine) -> LegendItem:
    dashes = DASHES[_style(number - 1)]
    dashed = f' stroke-dasharray="{dashes}" stroke-linecap="round"' if dashes else ""

    def sample(x: float, y: float) -> str:
        if line.is_measured:
            return f'<circle class="dot dot-{number}" cx="{x:.1f}" cy="{y:.1f}" r="4"/>'
        return (
            f'<path class="line line-{number}" fill="none"{dashed} d="M{x - 12:.1f} {y:.1f}h24"/>'
        )

    return LegendItem(line.place, sample)
