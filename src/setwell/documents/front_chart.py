"""How far proposals are from what is asked, against what they cost; the unbeaten ones filled."""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import partial

from setwell.documents.amounts import number_text
from setwell.documents.chart_axis import Axis, limits_around
from setwell.documents.drawing import (
    LegendItem,
    drawing_key,
    legend,
    opened,
    scale,
    text_at,
    width_of,
)
from setwell.documents.label_places import Box, box_around, label_places

_WIDTH = 480.0
_LEFT, _RIGHT, _TOP, _PLOT, _FOOT = 56.0, 452.0, 30.0, 300.0, 66.0
_DISC, _LINE = 13.0, 18.0
# So far from its place a disc may stand where others are [drawing units].
_RINGS = (0.0, 29.0, 44.0, 60.0, 80.0)

Spot = tuple[float, float]


@dataclass(frozen=True, slots=True)
class FrontPoint:
    """One proposal: `across` is None where it cannot be told; `beside` stands next to its mark."""

    mark: str
    label: str
    across: float | None
    off: float
    beside: str
    is_best: bool


@dataclass(frozen=True, slots=True)
class FrontChart:
    """Proposals by two numbers of which less is better."""

    title: str
    points: tuple[FrontPoint, ...]
    x_label: str
    y_label: str = "Off by (0: right, 1: a taster notices)"


def front_chart_svg(chart: FrontChart) -> str:
    """Return the drawing as one `<svg>`; css/proposals.css gives colors and sizes."""
    x_axis, y_axis = _axes(chart)
    frame = Box(x_axis.start, y_axis.end, x_axis.end, y_axis.start)
    shown = [point for point in chart.points if point.across is not None]
    spots = [_spot(point, x_axis, y_axis) for point in shown]
    discs = _apart(spots, frame)
    names, height = legend(_samples(shown), 10.0, _WIDTH, frame.bottom + _FOOT)
    taken = [box_around(x, y, 2 * _DISC + 8, 2 * _DISC + 2) for x, y in discs]
    widths = [width_of(point.beside) for point in shown]
    places = label_places(discs, widths, _LINE, taken, frame)
    parts = [
        opened("texture-chart front-chart", chart.title, front_said(chart),
               key=drawing_key(chart.title), width=_WIDTH, height=frame.bottom + _FOOT + height),
        *scale(x_axis, y_axis, chart.x_label, chart.y_label),
        *_leaders(spots, discs),
        *(f'<circle class="spot" cx="{x:.1f}" cy="{y:.1f}" r="3.5"/>'
          for (x, y), disc in zip(spots, discs, strict=True) if (x, y) != disc),
        *_leaders(discs, [(one.x, one.y) if one.has_leader else disc
                          for disc, one in zip(discs, places, strict=True)]),
        *(_disc("disc best" if point.is_best else "disc", x, y, point.mark)
          for point, (x, y) in zip(shown, discs, strict=True)),
        *(text_at(place.x, place.y + 5.5, point.beside, "note", "middle")
          for point, place in zip(shown, places, strict=True)),
        *names,
        "</svg>",
    ]  # fmt: skip
    return "".join(parts)


def front_said(chart: FrontChart) -> str:
    """Return in words where the proposals lie."""
    said = [f"{chart.y_label} against {chart.x_label}; less is better in both."]
    for point in chart.points:
        across = "not known" if point.across is None else number_text(point.across)
        best = ", none is better in every way" if point.is_best else ""
        said.append(
            f"{point.mark}, {point.label}: {across}, off by "
            f"{number_text(point.off, digits=2)}, {point.beside}{best}."
        )
    return " ".join(said)


def _axes(chart: FrontChart) -> tuple[Axis, Axis]:
    across = [point.across for point in chart.points if point.across is not None]
    x_ends = limits_around([0.0, *across])
    y_ends = limits_around([0.0, 1.0, *(point.off for point in chart.points)])
    return Axis(*x_ends, _LEFT, _RIGHT), Axis(*y_ends, _TOP + _PLOT, _TOP)


def _spot(point: FrontPoint, x_axis: Axis, y_axis: Axis) -> tuple[float, float]:
    off = point.off if math.isfinite(point.off) else y_axis.high
    return x_axis.at(point.across or 0.0), y_axis.at(y_axis.clip(off))


def _apart(spots: list[Spot], frame: Box) -> list[Spot]:
    """Return where the discs go: each at its place, or as near as no other disc is covered."""
    found: list[Spot] = []
    for x, y in spots:
        around = (
            (x + ring * math.cos(turn * math.pi / 6), y - ring * math.sin(turn * math.pi / 6))
            for ring in _RINGS
            for turn in range(12)
        )
        free = (
            spot
            for spot in around
            if all(math.dist(spot, other) >= 2 * _DISC + 2 for other in found)
            and frame.left <= spot[0] <= frame.right
            and frame.top <= spot[1] <= frame.bottom
        )
        found.append(next(free, (x, y)))
    return found


def _leaders(spots: list[Spot], places: list[Spot]) -> Iterable[str]:
    for (x, y), (to_x, to_y) in zip(spots, places, strict=True):
        if (x, y) != (to_x, to_y):
            yield f'<path class="leader" d="M{x:.1f} {y:.1f}L{to_x:.1f} {to_y:.1f}"/>'


def _samples(points: list[FrontPoint]) -> list[LegendItem]:
    words = {
        True: "none is better in every way",
        False: "another is as good or better, as far as known",
    }
    kinds = [kind for kind in words if any(point.is_best is kind for point in points)]
    return [
        LegendItem(words[kind], partial(_disc, "disc best" if kind else "disc")) for kind in kinds
    ]


def _disc(kind: str, x: float, y: float, mark: str = "") -> str:
    drawn = f'<circle class="{kind}" cx="{x:.1f}" cy="{y:.1f}" r="{_DISC if mark else 8.0:g}"/>'
    return drawn + (text_at(x, y + 5.5, mark, f"{kind} number", "middle") if mark else "")
