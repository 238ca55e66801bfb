"""The texture map: how far a gel gives before it breaks, against how hard it has to be pressed."""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import partial
from string import ascii_lowercase

from setwell.documents.amounts import number_text
from setwell.documents.chart_axis import Axis
from setwell.documents.drawing import (
    ChartTable,
    LegendItem,
    drawing_key,
    legend,
    opened,
    scale,
    text_at,
    width_of,
    window_opened,
)
from setwell.documents.label_places import Box, box_around, label_places, least_covered
from setwell.documents.log_axis import LogAxis, log_limits
from setwell.documents.texture_point import (
    DEVIATIONS,
    POINT_KINDS,
    TexturePoint,
    doubt_shapes,
    point_shape,
)

__all__ = ["TextureMap", "TexturePoint", "TextureRegion", "texture_map_svg", "texture_map_table"]

_WIDTH = 480.0
_LEFT, _RIGHT, _TOP, _PLOT, _FOOT = 56.0, 466.0, 30.0, 370.0, 66.0
# The map shows at least this much: Hencky strain, and stress in kPa.
_STRAIN, _STRESS = (0.1, 3.0), (0.3, 300.0)
# A mark and a line of text take so much room.
_MARK, _LINE = 17.0, 18.0


@dataclass(frozen=True, slots=True)
class TextureRegion:
    """A named part of the map; strain as Hencky strain, stress in kPa."""

    key: str
    name: str
    strain_low: float
    strain_high: float
    stress_low: float
    stress_high: float

    def holds(self, strain: float, stress: float) -> bool:
        """True when a texture lies in this part."""
        return (
            self.strain_low <= strain <= self.strain_high
            and self.stress_low <= stress <= self.stress_high
        )


@dataclass(frozen=True, slots=True)
class TextureMap:
    """What the map shows; its limits grow where a point lies beyond them.

    `marks` stand beside the points instead of letters. `asked` is a part of the map that is
    wanted, drawn over the trade words.
    """

    title: str
    points: tuple[TexturePoint, ...]
    regions: tuple[TextureRegion, ...] = ()
    x_label: str = "How far it bends before it breaks (Hencky strain)"
    y_label: str = "How hard to press until it breaks (stress, kPa)"
    marks: tuple[str, ...] = ()
    asked: TextureRegion | None = None

    def mark(self, place: int) -> str:
        """Return what stands beside a point."""
        return self.marks[place] if self.marks else letter(place)


def texture_map_svg(chart: TextureMap) -> str:
    """Return the map as one `<svg>` element; css/texture_chart.css gives colors and sizes."""
    x_axis, y_axis = _axes(chart)
    frame = Box(x_axis.start, y_axis.end, x_axis.end, y_axis.start)
    kinds = [kind for kind in POINT_KINDS if any(p.kind == kind for p in chart.points)]
    samples = [LegendItem(POINT_KINDS[kind], partial(point_shape, kind)) for kind in kinds]
    names, height = legend(samples, 10.0, _WIDTH, frame.bottom + _FOOT)
    spots = _spots(chart.points, x_axis, y_axis)
    marks = [box_around(x, y, _MARK, _MARK) for x, y in spots]
    titles, named = _region_names(chart.regions, x_axis, y_axis, marks)
    key = drawing_key(chart.title)
    parts = [
        opened(
            "texture-chart texture-map", chart.title, description(chart), key=key,
            width=_WIDTH, height=frame.bottom + _FOOT + height,
        ),
        *_regions(chart.regions, x_axis, y_axis),
        *_asked(chart.asked, x_axis, y_axis),
        *scale(x_axis, y_axis, chart.x_label, chart.y_label, 7),
        window_opened(frame.left - 2, frame.top - 2, frame.right + 2, frame.bottom + 2),
        *doubt_shapes(chart.points, spots, x_axis, y_axis),
        "</svg>",
        *titles,
        *_points(chart, spots, [*marks, *named], frame),
        *names,
        "</svg>",
    ]  # fmt: skip
    return "".join(parts)


def texture_map_table(chart: TextureMap) -> ChartTable:
    """Return the points with their letters, ranges and the regions they lie in."""
    first = "Number" if chart.marks else "Letter"
    header = (first, "Texture", "Kind", "Strain (Hencky)", "Stress, kPa", "Region", "Note")
    rows = tuple(
        (
            chart.mark(place), point.label, POINT_KINDS[point.kind],
            "not known" if point.strain is None else _range(point.strain, point.log_sd_strain),
            _range(point.stress, point.log_sd_stress), region_names(chart.regions, point),
            point.note,
        )
        for place, point in enumerate(chart.points)
    )  # fmt: skip
    return ChartTable(header, rows)


def letter(place: int) -> str:
    """Return the letter of a point, counted from 0.

    >>> letter(0), letter(25), letter(26)
    ('a', 'z', 'aa')
    """
    before = letter(place // 26 - 1) if place >= 26 else ""
    return before + ascii_lowercase[place % 26]


def region_names(regions: Iterable[TextureRegion], point: TexturePoint) -> str:
    """Return the names of the regions a point lies in."""
    if point.strain is None:
        return ""
    held = [one.name for one in regions if one.holds(point.strain, point.stress)]
    return ", ".join(held) or "between regions"


def description(chart: TextureMap) -> str:
    """Return in words where the points lie."""
    said = [f"{chart.y_label} against {chart.x_label}, both in equal ratios."]
    if chart.asked is not None:
        said.append(f"{chart.asked.name.capitalize()}: the part with the broken edge.")
    for place, point in enumerate(chart.points):
        where = region_names(chart.regions, point) if chart.regions else ""
        strain = "not known" if point.strain is None else number_text(point.strain, digits=2)
        said.append(
            f"{chart.mark(place)}, {point.label}: strain {strain}, "
            f"stress {number_text(point.stress, digits=2)} kPa{where and f', {where}'}."
        )
    return " ".join(said)


def _range(value: float, log_sd: float) -> str:
    text = number_text(value, digits=2)
    if log_sd <= 0.0:
        return text
    factor = math.exp(DEVIATIONS * log_sd)
    low, high = (number_text(one, digits=2) for one in (value / factor, value * factor))
    return f"{text} ({low}–{high})"


def _axes(chart: TextureMap) -> tuple[LogAxis, LogAxis]:
    strains = [point.strain for point in chart.points if point.strain is not None]
    stresses = [point.stress for point in chart.points]
    return (
        LogAxis(*log_limits(strains, *_STRAIN), _LEFT, _RIGHT),
        LogAxis(*log_limits(stresses, *_STRESS), _TOP + _PLOT, _TOP),
    )


def _spots(points: Iterable[TexturePoint], x_axis: Axis, y_axis: Axis) -> list[tuple[float, float]]:
    """Return where the marks stand; those of unknown strain stand in a row at the right end."""
    spots = []
    right = x_axis.end - _MARK
    for point in points:
        x = right if point.strain is None else x_axis.at(point.strain)
        right -= 1.6 * _MARK if point.strain is None else 0.0
        spots.append((x, y_axis.at(point.stress)))
    return spots


def _points(
    chart: TextureMap, spots: list[tuple[float, float]], taken: list[Box], frame: Box
) -> Iterable[str]:
    """Draw the marks and their letters, with a thin line where a letter stands farther off."""
    points = chart.points
    letters = [chart.mark(place) for place in range(len(points))]
    # A letter and a little air on each side.
    places = label_places(spots, [width_of(one) + 3.0 for one in letters], _LINE, taken, frame)
    for (x, y), place in zip(spots, places, strict=True):
        if place.has_leader:
            yield f'<path class="leader" d="M{x:.1f} {y:.1f}L{place.x:.1f} {place.y:.1f}"/>'
    # The formula itself lies on top of all others.
    for (x, y), point in sorted(
        zip(spots, points, strict=True), key=lambda pair: pair[1].kind == "this"
    ):
        yield point_shape(point.kind, x, y)
    for point, name, place in zip(points, letters, places, strict=True):
        kind = f"letter letter-{point.kind}"
        yield text_at(place.x, place.y + 5.5, name, kind, "middle")


def _box(region: TextureRegion, x_axis: Axis, y_axis: Axis) -> Box | None:
    left, right = (x_axis.at(x_axis.clip(v)) for v in (region.strain_low, region.strain_high))
    bottom, top = (y_axis.at(y_axis.clip(v)) for v in (region.stress_low, region.stress_high))
    return Box(left, top, right, bottom) if right > left and bottom > top else None


def _regions(regions: Iterable[TextureRegion], x_axis: Axis, y_axis: Axis) -> Iterable[str]:
    for number, region in enumerate(regions):
        box = _box(region, x_axis, y_axis)
        if box is not None:
            yield (
                f'<rect class="region region-{number % 3 + 1}" x="{box.left:.1f}" '
                f'y="{box.top:.1f}" width="{box.right - box.left:.1f}" '
                f'height="{box.bottom - box.top:.1f}"/>'
            )


def _asked(region: TextureRegion | None, x_axis: Axis, y_axis: Axis) -> Iterable[str]:
    """Draw what is wanted with a broken edge, and its name along the upper one."""
    box = _box(region, x_axis, y_axis) if region is not None else None
    if region is None or box is None:
        return
    yield (
        f'<rect class="asked" stroke-dasharray="9 5" x="{box.left:.1f}" y="{box.top:.1f}" '
        f'width="{box.right - box.left:.1f}" height="{box.bottom - box.top:.1f}"/>'
    )
    half = width_of(region.name) / 2
    middle = min(max((box.left + box.right) / 2, x_axis.start + half), x_axis.end - half)
    yield text_at(middle, max(box.top - 6.0, y_axis.end + 14.0), region.name, "wanted", "middle")


def _region_names(
    regions: Iterable[TextureRegion], x_axis: Axis, y_axis: Axis, taken: list[Box]
) -> tuple[list[str], list[Box]]:
    """Write each name in its own part of the map, where it covers the fewest points."""
    texts: list[str] = []
    boxes: list[Box] = []
    for region in regions:
        box = _box(region, x_axis, y_axis)
        if box is None:
            continue
        half = width_of(region.name) / 2 + 4.0
        across = (box.left + half, (box.left + box.right) / 2, box.right - half)
        down = (box.top + 13.0, box.bottom - 13.0, (box.top + box.bottom) / 2)
        choices = [box_around(x, y, 2 * half, _LINE) for y in down for x in across]
        best = least_covered(choices, [*taken, *boxes])
        boxes.append(best)
        texts.append(
            text_at((best.left + best.right) / 2, best.top + 14.0, region.name, "part", "middle")
        )
    return texts, boxes
