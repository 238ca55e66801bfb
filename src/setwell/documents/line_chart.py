"""Line charts as plain SVG: they print, work without scripts and take the colors of the page.

Colors, widths and text sizes come from css/chart.css through class names; line styles and shapes
are in the drawing itself, so nothing depends on color alone.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass

from setwell.documents.amounts import number_text
from setwell.documents.chart_axis import Axis, limits_around
from setwell.documents.drawing import (
    drawing_key,
    moved_apart,
    opened,
    scale,
    text_at,
    window_opened,
    wrapped,
)
from setwell.errors import InputError

# The drawing, in its own units; the page scales it.
_WIDTH, _HEIGHT = 480.0, 330.0
_LEFT, _TOP, _BOTTOM, _RIGHT = 54.0, 34.0, 58.0, 14.0
# Room for a letter and between two lines of text at the largest size of the stylesheet.
_LETTER, _LEADING = 9.8, 18.0
_LABEL_LETTERS = 14
DASHES = {"solid": "", "dashed": "9 6", "dotted": "1.5 6", "dash-dot": "12 5 1.5 5"}


@dataclass(frozen=True, slots=True)
class Series:
    """One line; `low` and `high`, when given, are drawn as a shaded range around it."""

    name: str
    x: tuple[float, ...]
    y: tuple[float, ...]
    style: str = "solid"
    low: tuple[float, ...] = ()
    high: tuple[float, ...] = ()

    def __post_init__(self) -> None:
        """Check that every point has all its numbers."""
        if self.style not in DASHES:
            raise InputError(
                f"The line style “{self.style}” is not known.",
                hint=f"Use one of {', '.join(DASHES)}.",
            )
        for part, name in ((self.y, "y"), (self.low, "low"), (self.high, "high")):
            if len(part) != len(self.x) and (part or name == "y"):
                raise InputError(
                    f"The line “{self.name}” has {len(self.x)} x values and {len(part)} {name} "
                    "values.",
                    hint="Give one for each point.",
                )
        if bool(self.low) != bool(self.high):
            raise InputError(
                f"The line “{self.name}” has only one side of its range.",
                hint="Give both low and high, or neither.",
            )


@dataclass(frozen=True, slots=True)
class Band:
    """A shaded part of one axis, such as a window of pH."""

    low: float
    high: float
    label: str
    axis: str = "y"


@dataclass(frozen=True, slots=True)
class Mark:
    """A single value on one axis, drawn as a thin line across."""

    value: float
    label: str
    axis: str = "x"


@dataclass(frozen=True, slots=True)
class LineChart:
    """What a chart shows; limits are found from the data where none are given."""

    title: str
    x_label: str
    y_label: str
    series: tuple[Series, ...]
    bands: tuple[Band, ...] = ()
    marks: tuple[Mark, ...] = ()
    x_limits: tuple[float, float] | None = None
    y_limits: tuple[float, float] | None = None


def line_chart_svg(chart: LineChart) -> str:
    """Return the chart as one `<svg>` element, ready to stand in a page."""
    x_axis, y_axis = _axes(chart)
    said = description(chart)
    parts = [
        opened(
            "line-chart",
            chart.title,
            said,
            key=drawing_key(chart.title),
            width=_WIDTH,
            height=_HEIGHT,
        ),
        *_bands(chart.bands, x_axis, y_axis),
        *scale(x_axis, y_axis, chart.x_label, chart.y_label),
        *plotted(chart.series, x_axis, y_axis),
        *_marks(chart.marks, x_axis, y_axis),
        *_names(chart.series, x_axis, y_axis),
        "</svg>",
    ]
    return "".join(parts)


def description(chart: LineChart) -> str:
    """Return in words what the lines do, for who cannot see them."""
    said = [f"{chart.y_label} against {chart.x_label}."]
    for series in chart.series:
        points = _points(series.x, series.y)
        if points:
            (x0, y0), (x1, y1) = points[0], points[-1]
            said.append(
                f"{series.name}: {number_text(y0)} at {number_text(x0)}, "
                f"{number_text(y1)} at {number_text(x1)}."
            )
    said += [
        f"{band.label}: {number_text(band.low)} to {number_text(band.high)}."
        for band in chart.bands
    ]
    said += [f"{mark.label}: {number_text(mark.value)}." for mark in chart.marks]
    return " ".join(said)


def _axes(chart: LineChart) -> tuple[Axis, Axis]:
    named = max((len(row) for s in chart.series for row in _rows(s.name)), default=0)
    right = _WIDTH - _RIGHT - named * _LETTER
    # Marks along the bottom axis have their names above the plot.
    top = _TOP + _LEADING * any(mark.axis == "x" for mark in chart.marks)
    x_low, x_high = chart.x_limits or _found(value for series in chart.series for value in series.x)
    y_low, y_high = chart.y_limits or limits_around(
        value for series in chart.series for part in (series.y, series.low, series.high)
        for value in part
    )  # fmt: skip
    return (
        Axis(*_apart(x_low, x_high), _LEFT, right),
        Axis(*_apart(y_low, y_high), _HEIGHT - _BOTTOM, top),
    )


def _found(values: Iterable[float]) -> tuple[float, float]:
    finite = [value for value in values if math.isfinite(value)]
    return (min(finite), max(finite)) if finite else (0.0, 1.0)


def _apart(low: float, high: float) -> tuple[float, float]:
    return (low, high) if high > low else (low - 0.5, low + 0.5)


def _points(x: tuple[float, ...], y: tuple[float, ...]) -> list[tuple[float, float]]:
    pairs = zip(x, y, strict=True)
    return [(a, b) for a, b in pairs if math.isfinite(a) and math.isfinite(b)]


def _rows(name: str) -> list[str]:
    return wrapped(name, _LABEL_LETTERS)


def _bands(bands: Iterable[Band], x_axis: Axis, y_axis: Axis) -> Iterable[str]:
    for number, band in enumerate(bands, start=1):
        axis = x_axis if band.axis == "x" else y_axis
        if band.high <= axis.low or band.low >= axis.high:
            continue
        ends = sorted(axis.at(axis.clip(value)) for value in (band.low, band.high))
        other = y_axis if band.axis == "x" else x_axis
        across = sorted((other.start, other.end))
        (x0, x1), (y0, y1) = (ends, across) if band.axis == "x" else (across, ends)
        yield (
            f'<rect class="band band-{number}" x="{x0:.1f}" y="{y0:.1f}" '
            f'width="{x1 - x0:.1f}" height="{y1 - y0:.1f}"/>'
        )
        yield text_at(x0 + 6, y0 + 16, band.label, "note")


def _marks(marks: Iterable[Mark], x_axis: Axis, y_axis: Axis) -> Iterable[str]:
    for mark in marks:
        axis = x_axis if mark.axis == "x" else y_axis
        if not axis.holds(mark.value):
            continue
        at = axis.at(mark.value)
        if mark.axis == "x":
            yield f'<path class="mark" d="M{at:.1f} {y_axis.end:.1f}V{y_axis.start:.1f}"/>'
            anchor = "end" if at > (x_axis.start + x_axis.end) / 2 else "start"
            yield text_at(at, y_axis.end - 6, mark.label, "note", anchor)
        else:
            yield f'<path class="mark" d="M{x_axis.start:.1f} {at:.1f}H{x_axis.end:.1f}"/>'
            yield text_at(x_axis.end - 4, at - 5, mark.label, "note", "end")


def plotted(series: tuple[Series, ...], x_axis: Axis, y_axis: Axis) -> Iterable[str]:
    """Draw ranges and lines inside a frame of their own, which cuts off what lies outside."""
    yield window_opened(x_axis.start - 3, y_axis.end - 3, x_axis.end + 3, y_axis.start + 3)
    for number, one in enumerate(series, start=1):
        if one.low:
            around = [*_points(one.x, one.low), *_points(one.x, one.high)[::-1]]
            yield f'<path class="range range-{number}" d="{_path(around, x_axis, y_axis)}Z"/>'
    for number, one in enumerate(series, start=1):
        dashes = DASHES[one.style]
        dashed = f' stroke-dasharray="{dashes}" stroke-linecap="round"' if dashes else ""
        for stretch in _stretches(one):
            yield (
                f'<path class="line line-{number}" fill="none"{dashed} '
                f'd="{_path(stretch, x_axis, y_axis)}"/>'
            )
    yield "</svg>"


def _stretches(series: Series) -> Iterable[list[tuple[float, float]]]:
    """Cut the line wherever a value is missing."""
    stretch: list[tuple[float, float]] = []
    for x, y in zip(series.x, series.y, strict=True):
        if math.isfinite(x) and math.isfinite(y):
            stretch.append((x, y))
        elif stretch:
            yield stretch
            stretch = []
    if stretch:
        yield stretch


def _path(points: list[tuple[float, float]], x_axis: Axis, y_axis: Axis) -> str:
    drawn = [f"{x_axis.at(x):.1f} {y_axis.at(y):.1f}" for x, y in points]
    return "M" + "L".join(drawn) if drawn else ""


def _names(series: tuple[Series, ...], x_axis: Axis, y_axis: Axis) -> Iterable[str]:
    """Write each name beside the end of its line, moved apart where two ends meet."""
    wanted = []
    for number, one in enumerate(series, start=1):
        points = _points(one.x, one.y)
        rows = _rows(one.name)
        if points and rows:
            wanted.append((y_axis.at(y_axis.clip(points[-1][1])), number, rows))
    wanted.sort()
    heights = [len(rows) * _LEADING for _, _, rows in wanted]
    tops = moved_apart(
        [y - height / 2 for (y, _, _), height in zip(wanted, heights, strict=True)],
        heights, y_axis.end - 10, y_axis.start + 8,
    )  # fmt: skip
    for (_, number, rows), top in zip(wanted, tops, strict=True):
        for line, row in enumerate(rows):
            y = top + 13 + line * _LEADING
            yield text_at(x_axis.end + 8, y, row, f"name name-{number}")
