"""Temperatures of each agent on one line: where it hydrates, sets, melts and is worked with."""

import math
from collections.abc import Iterable
from dataclasses import dataclass

from setwell.documents.amounts import temperature_text
from setwell.documents.chart_axis import Axis
from setwell.documents.drawing import (
    LEADING,
    ChartTable,
    closed_path,
    drawing_key,
    opened,
    stacked,
    text_at,
    width_of,
)
from setwell.errors import InputError
from setwell.units import fahrenheit_from_celsius

_WIDTH, _LEFT, _RIGHT = 480.0, 34.0, 468.0
# The strip shows at least this much [°C].
_LOW, _HIGH = -5.0, 105.0
_STEP = 20.0
# Room for the name of a row, for one bar, between rows, and for the axis below.
_NAME, _LANE, _BETWEEN, _FOOT = 24.0, 23.0, 8.0, 62.0
# Half the thickness of a bar.
_THICK = 6.0
BAR_KINDS = {
    "hydrates": "hydrates",
    "sets": "sets",
    "melts": "melts",
    "practice": "usual practice",
}


@dataclass(frozen=True, slots=True)
class StripBar:
    """A temperature with its range [°C]; low and high are None where no range is known."""

    kind: str
    low: float | None
    value: float
    high: float | None

    def __post_init__(self) -> None:
        """Check the kind, the order and that there is a number."""
        if self.kind not in BAR_KINDS:
            raise InputError(
                f"The kind “{self.kind}” of temperature is not known.",
                hint=f"Use one of {', '.join(BAR_KINDS)}.",
            )
        if not all(math.isfinite(one) for one in self.ends):
            raise InputError(
                f"A temperature of “{self.kind}” is not a number.",
                hint="Leave the bar out, or give None for a side of the range that is not known.",
            )
        low, high = self.ends
        if not low <= self.value <= high:
            raise InputError(
                f"“{self.kind}” has {self.value:g} °C outside its range {low:g} to {high:g} °C.",
                hint="Give the lower end first and the value between.",
            )

    @property
    def ends(self) -> tuple[float, float]:
        """Return low and high, the value itself where an end is not known."""
        low = self.value if self.low is None else self.low
        high = self.value if self.high is None else self.high
        return low, high

    @property
    def words(self) -> str:
        """Return kind, temperature and range in °C."""
        low, high = (round(end) for end in self.ends)
        span = f" ({low}–{high})" if low != high else ""
        return f"{BAR_KINDS[self.kind]} {round(self.value)}{span} °C"


@dataclass(frozen=True, slots=True)
class StripRow:
    """The temperatures of one agent or blend."""

    label: str
    bars: tuple[StripBar, ...]


@dataclass(frozen=True, slots=True)
class StripMark:
    """A temperature that is the same for all rows, drawn as a line from top to bottom."""

    label: str
    value: float


MOUTH = StripMark("mouth", 35.0)
FRIDGE = StripMark("fridge", 4.0)


@dataclass(frozen=True, slots=True)
class TemperatureStrip:
    """What the strip shows; its ends move out where a temperature lies beyond them."""

    title: str
    rows: tuple[StripRow, ...]
    serving: float | None = None
    marks: tuple[StripMark, ...] = (FRIDGE, MOUTH)

    @property
    def all_marks(self) -> tuple[StripMark, ...]:
        """Return the marks with the serving temperature among them, coldest first."""
        served = () if self.serving is None else (StripMark("served", self.serving),)
        return tuple(sorted((*self.marks, *served), key=lambda mark: mark.value))


def temperature_strip_svg(strip: TemperatureStrip) -> str:
    """Return the strip as one `<svg>` element; css/texture_chart.css gives colors and sizes."""
    axis = _axis(strip)
    names = [f"{mark.label} {temperature_text(mark.value)}" for mark in strip.all_marks]
    places = stacked([axis.at(mark.value) for mark in strip.all_marks], names, _WIDTH)
    top = 8.0 + LEADING * (1 + max((row for _, _, row in places), default=-1))
    parts: list[str] = []
    y = top
    for row in strip.rows:
        parts.append(text_at(4.0, y + 18.0, row.label, "name"))
        y += _NAME
        for bar in row.bars:
            bar_parts, height = _bar(bar, axis, y)
            parts += bar_parts
            y += height
        y += _BETWEEN
    head = opened(
        "texture-chart temperature-strip", strip.title, description(strip),
        key=drawing_key(strip.title), width=_WIDTH, height=y + _FOOT,
    )  # fmt: skip
    marks = _marks(strip.all_marks, names, places, top, y)
    return "".join([head, *_grid(axis, top, y), *marks, *parts, "</svg>"])


def temperature_strip_table(strip: TemperatureStrip) -> ChartTable:
    """Return every temperature with its range, in both scales."""
    rows = [
        (row.label, BAR_KINDS[bar.kind], temperature_text(bar.value), _ends_text(bar))
        for row in strip.rows
        for bar in row.bars
    ]
    rows += [("all", mark.label, temperature_text(mark.value), "") for mark in strip.all_marks]
    return ChartTable(("Agent", "What", "Temperature", "Range"), tuple(rows))


def description(strip: TemperatureStrip) -> str:
    """Return in words what stands on the strip."""
    said = [f"{row.label}: {', '.join(bar.words for bar in row.bars)}." for row in strip.rows]
    said += [
        f"{mark.label.capitalize()}: {temperature_text(mark.value)}." for mark in strip.all_marks
    ]
    return " ".join(said)


def _ends_text(bar: StripBar) -> str:
    low, high = bar.ends
    if low == high:
        return ""
    return f"{temperature_text(low)} to {temperature_text(high)}"


def _axis(strip: TemperatureStrip) -> Axis:
    values = [bar.value for row in strip.rows for bar in row.bars]
    values += [mark.value for mark in strip.all_marks]
    low = min([_LOW, *(math.floor(v / 5.0) * 5.0 - 5.0 for v in values)])
    high = max([_HIGH, *(math.ceil(v / 5.0) * 5.0 + 5.0 for v in values)])
    return Axis(low, high, _LEFT, _RIGHT)


def _grid(axis: Axis, top: float, bottom: float) -> Iterable[str]:
    """Draw the axis with °C, and °F beneath."""
    first, last = math.ceil(axis.low / _STEP), math.floor(axis.high / _STEP)
    for value in (_STEP * n for n in range(first, last + 1)):
        x = axis.at(value)
        yield f'<path class="grid" d="M{x:.1f} {top:.1f}V{bottom:.1f}"/>'
        yield f'<path class="axis" d="M{x:.1f} {bottom:.1f}v6"/>'
        yield text_at(x, bottom + 24.0, f"{value:g}", "tick", "middle")
        degrees_us = f"{round(fahrenheit_from_celsius(value))}"
        yield text_at(x, bottom + 46.0, degrees_us, "tick", "middle")
    yield f'<path class="axis" d="M{axis.start:.1f} {bottom:.1f}H{axis.end:.1f}"/>'
    yield text_at(4.0, bottom + 24.0, "°C", "tick")
    yield text_at(4.0, bottom + 46.0, "°F", "tick")


def _marks(
    marks: Iterable[StripMark],
    names: list[str],
    places: list[tuple[float, str, int]],
    top: float,
    bottom: float,
) -> Iterable[str]:
    # All lines first, so that a line never runs over a name.
    for mark, (x, _, row) in zip(marks, places, strict=True):
        served = mark.label == "served"
        dashes = "" if served else ' stroke-dasharray="3 4"'
        kind = "mark mark-served" if served else "mark"
        up = top - 17.0 - LEADING * row
        yield f'<path class="{kind}"{dashes} d="M{x:.1f} {up:.1f}V{bottom:.1f}"/>'
    for mark, name, (x, anchor, row) in zip(marks, names, places, strict=True):
        side = 5.0 if anchor == "start" else -5.0
        kind = "reading" if mark.label == "served" else "note"
        yield text_at(x + side, top - 5.0 - LEADING * row, name, kind, anchor)


def _bar(bar: StripBar, axis: Axis, top: float) -> tuple[list[str], float]:
    """Draw one range by its kind with its words beside it, or above where there is no room."""
    low, high = (axis.at(axis.clip(end)) for end in bar.ends)
    x = axis.at(bar.value)
    if bar.kind == "practice":
        low, high = min(low, x - 7.0), max(high, x + 7.0)
    width = width_of(bar.words)
    middle = top + _LANE / 2
    if high + 8.0 + width <= _WIDTH:
        said = text_at(high + 8.0, middle + 5.5, bar.words, "reading")
    elif low - 8.0 - width >= 0.0:
        said = text_at(low - 8.0, middle + 5.5, bar.words, "reading", "end")
    else:
        said = text_at(min(low, _WIDTH - width), middle + 5.5, bar.words, "reading")
        middle += _LANE - 5.0
    return [*_range(bar, low, x, high, middle), said], middle - top + _LANE / 2


def _range(bar: StripBar, low: float, x: float, high: float, y: float) -> Iterable[str]:
    if bar.kind == "practice":
        yield f'<path class="bar bar-practice" d="M{low:.1f} {y:.1f}H{high:.1f}"/>'
        corners = [(x, y - 8.0), (x + 7.0, y), (x, y + 8.0), (x - 7.0, y)]
        yield closed_path(corners, "tip tip-practice")
        return
    dashes = ' stroke-dasharray="4 3"' if bar.kind == "melts" else ""
    yield (
        f'<rect class="bar bar-{bar.kind}"{dashes} x="{low:.1f}" y="{y - _THICK:.1f}" '
        f'width="{max(high - low, 2.0):.1f}" height="{2 * _THICK:g}" rx="3"/>'
    )
    yield f'<path class="tip tip-{bar.kind}" d="M{x:.1f} {y - 9:.1f}v18"/>'
