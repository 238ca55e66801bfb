"""The pH on a line from 2 to 9: how sure it is, what was measured, and where the agents work."""

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass
from html import escape, unescape

from setwell.documents.chart_axis import Axis
from setwell.engine.assessment import Assessment
from setwell.engine.titration_curve import CASEIN_PH
from setwell.provenance import Estimate

_WIDTH = 480.0
_LEFT, _RIGHT = 16.0, 464.0
# From this pH to that; wider when a reading lies beyond.
_LOW, _HIGH = 2.0, 9.0
# Room for one reading, for the axis with its numbers, and for one window below it.
_READING, _AXIS, _WINDOW = 40.0, 34.0, 34.0
# Room for a letter at the largest size of the stylesheet, and above and below its baseline.
_LETTER, _ABOVE, _BELOW = 11.2, 15.0, 6.0
_LABEL = re.compile(
    r'<text class="\w+" x="(?P<x>[-\d.]+)" y="(?P<y>[-\d.]+)" text-anchor="(?P<anchor>\w+)">'
    r"(?P<said>[^<]*)</text>"
)


@dataclass(frozen=True, slots=True)
class Reading:
    """A pH with its range: computed, or measured."""

    label: str
    value: float
    low: float
    high: float
    is_measured: bool = False


@dataclass(frozen=True, slots=True)
class Window:
    """The pH an agent works in."""

    name: str
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class PhLine:
    """What stands on the line."""

    readings: tuple[Reading, ...]
    windows: tuple[Window, ...]
    has_casein: bool


def ph_line(assessment: Assessment) -> PhLine | None:
    """Return the line of an assessed formula; None where there is no pH to speak of."""
    readings = tuple(_readings(assessment))
    if not readings:
        return None
    return PhLine(
        readings,
        tuple(_windows(assessment)),
        any(allergen.allergen == "milk" for allergen in assessment.allergens),
    )


def _readings(assessment: Assessment) -> Iterable[Reading]:
    computed = assessment.figure("ph_computed")
    counted = assessment.figure("ph")
    for figure, label in (
        (counted, "measured" if computed else "computed"),
        (computed, "computed"),
    ):
        if figure is None or figure.is_none:
            continue
        yield _reading(label, figure.estimate)


def _reading(label: str, estimate: Estimate) -> Reading:
    low = estimate.value if estimate.low is None else estimate.low
    high = estimate.value if estimate.high is None else estimate.high
    return Reading(label, estimate.value, low, high, label == "measured")


def _windows(assessment: Assessment) -> Iterable[Window]:
    for agent in assessment.agents:
        for figure in agent.chart:
            low, high = figure.estimate.low, figure.estimate.high
            if figure.key == "ph_window" and low is not None and high is not None:
                yield Window(agent.name, low, high)


def ph_line_svg(line: PhLine) -> str:
    """Return the line as one `<svg>` element; css/chart.css gives it colors and sizes."""
    values = [value for reading in line.readings for value in (reading.value,)]
    axis = Axis(
        min(_LOW, *(math.floor(v) for v in values)), max(_HIGH, *(math.ceil(v) for v in values)),
        _LEFT, _RIGHT,
    )  # fmt: skip
    top = 6.0 + _READING * len(line.readings) + 8.0
    height = top + _AXIS + _WINDOW * len(line.windows) + 4.0
    height += 18.0 if line.has_casein else 0.0
    drawn = list(_rows(line, axis, top))
    parts = [
        f'<svg class="ph-line" role="img" viewBox="0 0 {_WIDTH:g} {height:g}" '
        'xmlns="http://www.w3.org/2000/svg" aria-labelledby="ph-line-title" '
        'aria-describedby="ph-line-desc">',
        f'<title id="ph-line-title">pH from {axis.low:g} to {axis.high:g}</title>',
        f'<desc id="ph-line-desc">{escape(description(line))}</desc>',
        *_casein(line, axis, top, drawn),
        *drawn,
        "</svg>",
    ]
    return "".join(parts)


def _rows(line: PhLine, axis: Axis, top: float) -> Iterable[str]:
    """Draw the scale, the readings above it and the windows below, each in a row of its own."""
    yield from _scale(axis, top)
    for place, reading in enumerate(line.readings):
        yield from _drawn(reading, axis, 6.0 + _READING * place)
    for place, window in enumerate(line.windows):
        yield from _window(window, axis, top + _AXIS + _WINDOW * place)


def description(line: PhLine) -> str:
    """Return in words what stands on the line."""
    said = [f"{_words(reading)}." for reading in line.readings]
    said += [f"{w.name} works from {w.low:g} to {w.high:g}." for w in line.windows]
    said += [f"Milk protein curdles cold at {CASEIN_PH:g}."] if line.has_casein else []
    return " ".join(said)


def _words(reading: Reading) -> str:
    places = 2 if reading.is_measured else 1
    value, low, high = (f"{v:.{places}f}" for v in (reading.value, reading.low, reading.high))
    return f"{reading.label.capitalize()} {value} ({low} to {high})"


def _scale(axis: Axis, y: float) -> Iterable[str]:
    yield f'<path class="axis" d="M{axis.start:.1f} {y:.1f}H{axis.end:.1f}"/>'
    for value in range(round(axis.low), round(axis.high) + 1):
        x = axis.at(value)
        yield f'<path class="axis" d="M{x:.1f} {y - 4:.1f}v8"/>'
        yield _text(x, y + 20, str(value), "tick", "middle")


def _drawn(reading: Reading, axis: Axis, top: float) -> Iterable[str]:
    """Draw the range as a bar and the value as a dot, or a diamond where it was measured."""
    kind = "measured" if reading.is_measured else "computed"
    y = top + 28.0
    ends = [axis.at(axis.clip(value)) for value in (reading.low, reading.high)]
    x = axis.at(axis.clip(reading.value))
    yield (
        f'<rect class="{kind}" x="{ends[0]:.1f}" y="{y - 5:.1f}" '
        f'width="{max(ends[1] - ends[0], 2.0):.1f}" height="10" rx="5"/>'
    )
    if reading.is_measured:
        yield f'<path class="{kind} point" d="M{x:.1f} {y - 9:.1f}l8 9l-8 9l-8 -9z"/>'
    else:
        yield f'<circle class="{kind} point" cx="{x:.1f}" cy="{y:.1f}" r="7"/>'
    said = _words(reading)
    half = len(said) * _LETTER / 2
    yield _text(min(max(x, half), _WIDTH - half), top + 12, said, "reading", "middle")


def _casein(line: PhLine, axis: Axis, bottom: float, labels: Iterable[str]) -> Iterable[str]:
    """Draw where milk protein curdles, broken wherever it would cross one of the labels."""
    if line.has_casein and axis.holds(CASEIN_PH):
        x = axis.at(CASEIN_PH)
        down = bottom + _AXIS + _WINDOW * len(line.windows)
        crossed = [(top, end) for left, top, right, end in _boxes(labels) if left <= x <= right]
        for start, end in _gaps(4.0, down - 2.0, crossed):
            yield f'<path class="mark" d="M{x:.1f} {start:.1f}V{end:.1f}"/>'
        said = f"milk protein curdles cold at {CASEIN_PH:g}"
        yield _text(min(x + 6, _WIDTH - len(said) * _LETTER), down + 14, said, "note", "start")


def _boxes(labels: Iterable[str]) -> Iterable[tuple[float, float, float, float]]:
    """Yield the room that each label takes at most: left, top, right, bottom."""
    for drawn in labels:
        found = _LABEL.match(drawn)
        if found is None:
            continue
        x, y, width = float(found["x"]), float(found["y"]), len(unescape(found["said"])) * _LETTER
        left = x - width / 2 if found["anchor"] == "middle" else x
        yield left, y - _ABOVE, left + width, y + _BELOW


def _gaps(
    start: float, end: float, taken: Iterable[tuple[float, float]]
) -> Iterable[tuple[float, float]]:
    """Yield what is free between two heights."""
    for top, bottom in sorted(taken):
        if top > start:
            yield start, min(top, end)
        start = max(start, bottom)
    if end > start:
        yield start, end


def _window(window: Window, axis: Axis, top: float) -> Iterable[str]:
    low, high = (axis.at(axis.clip(value)) for value in (window.low, window.high))
    yield (
        f'<rect class="window" x="{low:.1f}" y="{top + 18:.1f}" width="{max(high - low, 2.0):.1f}" '
        'height="9" rx="4"/>'
    )
    said = f"{window.name}: {window.low:g} to {window.high:g}"
    start = min(low, max(_WIDTH - len(said) * _LETTER, 0.0))
    yield _text(start, top + 13, said, "note", "start")


def _text(x: float, y: float, said: str, kind: str, anchor: str) -> str:
    return (
        f'<text class="{kind}" x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}">{escape(said)}</text>'
    )
