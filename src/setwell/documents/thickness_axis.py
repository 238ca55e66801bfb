"""Thickened proposals on one axis of thickness, each with its range, and what is asked."""

import math
from collections.abc import Iterable
from dataclasses import dataclass

from setwell.documents.amounts import number_text
from setwell.documents.drawing import ChartTable, drawing_key, opened, text_at, width_of
from setwell.documents.flow_chart import Landmark
from setwell.documents.log_axis import LogAxis, log_limits

_WIDTH, _LEFT, _RIGHT = 480.0, 44.0, 462.0
_TOP, _ROW, _FOOT, _NAMES = 44.0, 34.0, 62.0, 22.0
# The axis shows at least this much [mPa·s].
_LEAST = (3.0, 3000.0)


@dataclass(frozen=True, slots=True)
class ThicknessPoint:
    """One proposal with its thickness when stirred, and its range."""

    mark: str
    label: str
    value: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class ThicknessAxis:
    """What the axis shows; an open side of what is asked is None."""

    title: str
    points: tuple[ThicknessPoint, ...]
    asked_low: float | None = None
    asked_high: float | None = None
    landmarks: tuple[Landmark, ...] = ()
    label: str = "Thickness when stirred, mPa·s"


def thickness_axis_svg(chart: ThicknessAxis) -> str:
    """Return the drawing as one `<svg>`; css/proposals.css gives colors and sizes."""
    ends = [value for point in chart.points for value in (point.low, point.high)]
    axis = LogAxis(*log_limits(ends, *_LEAST), _LEFT, _RIGHT)
    known = _apart(chart.landmarks, axis)
    bottom = _TOP + _ROW * max(len(chart.points), 1)
    height = bottom + _FOOT + _NAMES * len(known)
    parts = [
        opened("texture-chart thickness-axis", chart.title, thickness_said(chart),
               key=drawing_key(chart.title), width=_WIDTH, height=height),
        *_asked(chart, axis, bottom),
        *_scale(chart, axis, bottom),
        *_bars(chart, axis),
        *_known(known, axis, bottom),
        "</svg>",
    ]  # fmt: skip
    return "".join(parts)


def thickness_said(chart: ThicknessAxis) -> str:
    """Return in words how thick each is."""
    said = [f"{chart.label}, in equal ratios."]
    said += [f"{one.mark}, {one.label}: {_span(one)}." for one in chart.points]
    return " ".join(said)


def thickness_table(chart: ThicknessAxis) -> ChartTable:
    """Return the same numbers as a table."""
    rows = tuple((one.mark, one.label, _span(one)) for one in chart.points)
    return ChartTable(("Number", "Proposal", chart.label), rows)


def _span(point: ThicknessPoint) -> str:
    value, low, high = (number_text(n, digits=2) for n in (point.value, point.low, point.high))
    return value if low == high else f"{value} ({low} to {high})"


def _asked(chart: ThicknessAxis, axis: LogAxis, bottom: float) -> Iterable[str]:
    low, high = chart.asked_low, chart.asked_high
    if low is None and high is None:
        return
    left = axis.start if low is None else axis.at(axis.clip(low))
    right = axis.end if high is None else axis.at(axis.clip(high))
    top = _TOP - 12.0
    yield (
        f'<rect class="asked" stroke-dasharray="9 5" x="{left:.1f}" y="{top:.1f}" '
        f'width="{max(right - left, 1.0):.1f}" height="{bottom - top:.1f}"/>'
    )
    half = width_of("asked for") / 2
    middle = min(max((left + right) / 2, axis.start + half), axis.end - half)
    yield text_at(middle, top - 6.0, "asked for", "wanted", "middle")


def _scale(chart: ThicknessAxis, axis: LogAxis, bottom: float) -> Iterable[str]:
    yield f'<path class="axis" d="M{axis.start:.1f} {bottom:.1f}H{axis.end:.1f}"/>'
    for value in axis.ticks(5):
        x = axis.at(value)
        yield f'<path class="axis" d="M{x:.1f} {bottom:.1f}v6"/>'
        yield text_at(x, bottom + 23.0, number_text(value), "tick", "middle")
    yield text_at((axis.start + axis.end) / 2, bottom + 48.0, chart.label, "label", "middle")


def _bars(chart: ThicknessAxis, axis: LogAxis) -> Iterable[str]:
    for row, point in enumerate(chart.points):
        y = _TOP + _ROW * (row + 0.5)
        low, high = (axis.at(axis.clip(value)) for value in (point.low, point.high))
        x = axis.at(axis.clip(point.value))
        yield f'<path class="bar" d="M{low:.1f} {y:.1f}H{high:.1f}"/>'
        yield f'<circle class="disc best" cx="{x:.1f}" cy="{y:.1f}" r="7"/>'
        yield text_at(_LEFT - 14.0, y + 5.5, point.mark, "name", "end")


def _apart(landmarks: Iterable[Landmark], axis: LogAxis) -> list[Landmark]:
    """Return everyday liquids on the axis, far enough apart to tell."""
    found: list[Landmark] = []
    for one in sorted(landmarks, key=lambda mark: mark.viscosity):
        is_far = not found or math.log(one.viscosity / found[-1].viscosity) > 1.2
        if is_far and axis.holds(one.viscosity):
            found.append(one)
    return found


def _known(landmarks: list[Landmark], axis: LogAxis, bottom: float) -> Iterable[str]:
    """Write each liquid in a row of its own below the axis, with a line up to it."""
    for row, one in enumerate(landmarks):
        x, y = axis.at(one.viscosity), bottom + _FOOT + _NAMES * (row + 0.6)
        is_right = x > (axis.start + axis.end) / 2
        yield f'<circle class="spot" cx="{x:.1f}" cy="{y - 5.0:.1f}" r="4"/>'
        yield text_at(x + (-10.0 if is_right else 10.0), y, one.name, "note",
                      "end" if is_right else "start")  # fmt: skip
