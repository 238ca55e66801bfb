"""The charts of a blend, each with the same numbers as a table."""

import math
from collections.abc import Callable
from dataclasses import dataclass

from setwell.documents.amounts import number_text
from setwell.documents.drawing import ChartTable
from setwell.documents.ternary_chart import (
    BlendCategory,
    RatioBand,
    RatioCell,
    RatioLine,
    RatioMark,
    TernaryCell,
    TernaryChart,
    TernaryMark,
    ratio_band_svg,
    ternary_chart_svg,
)
from setwell.documents.texture_map import (
    TextureMap,
    TexturePoint,
    TextureRegion,
    letter,
    texture_map_svg,
)
from setwell.engine.blend_grid import BlendGrid, BlendPoint, blend_kinds
from setwell.engine.material import Span
from setwell.engine.texture_results import MapPoint, Texture
from setwell.tables.rules import texture_regions

# Every second ratio goes on the map, so that the letters stay apart.
_EVERY = 2
_OFF_MAP = "–"


@dataclass(frozen=True, slots=True)
class BlendChart:
    """A drawing with its heading, what it says, and the table beside it."""

    key: str
    title: str
    says: str
    svg: str
    table: ChartTable


def blend_charts(grid: BlendGrid, texture: Texture) -> tuple[BlendChart, ...]:
    """Return the charts of a blend: its ratios, their path on the map, and the doses."""
    if len(grid.agents) == 3:
        return (_triangle(grid), _doses(grid, texture))
    return (_band(grid), _path(grid, texture), _doses(grid, texture))


def _band(grid: BlendGrid) -> BlendChart:
    names = (grid.agents[0].name, grid.agents[1].name)
    shares = tuple(point.shares[1] for point in grid.ratios)
    band = RatioBand(
        title=f"{names[0]} to {names[1]} at {number_text(grid.dose_pct)} %",
        agents=names,
        cells=tuple(RatioCell(point.shares[1], point.kind) for point in grid.ratios),
        categories=_categories(),
        lines=_lines(grid.ratios, shares),
        marks=tuple(RatioMark(best.what, best.shares[1]) for best in grid.best),
        current=grid.shares[1],
    )
    says = (
        "From all of the first agent on the left to all of the second on the right, at "
        f"{number_text(grid.dose_pct)} % in total. Shaded: the range the numbers may lie in."
    )
    return BlendChart("ratio", "Every ratio", says, ratio_band_svg(band), _table(grid, grid.ratios))


def _lines(points: tuple[BlendPoint, ...], shares: tuple[float, ...]) -> tuple[RatioLine, ...]:
    """Return stiffness, stress and strain where any blend gels, else the thickness."""
    if any(point.modulus_kpa is not None for point in points):
        return (
            _line("Stiffness", "kPa", shares, [point.modulus_kpa for point in points], 0.0),
            _line("Stress at break", "kPa", shares, [point.stress_kpa for point in points], 0.0),
            _line("Strain at break", "", shares, [point.strain for point in points], math.nan),
        )
    if any(point.thickness_mpa_s is not None for point in points):
        thick = [point.thickness_mpa_s for point in points]
        return (_line("Thickness when stirred", "mPa·s", shares, thick, math.nan),)
    return ()


def _line(
    name: str, unit: str, shares: tuple[float, ...], spans: list[Span | None], missing: float
) -> RatioLine:
    empty = Span(missing, missing, missing)
    found = [span or empty for span in spans]
    return RatioLine(
        name, unit, shares, tuple(one.value for one in found), tuple(one.low for one in found),
        tuple(one.high for one in found),
    )  # fmt: skip


def _triangle(grid: BlendGrid) -> BlendChart:
    first, second, third = (agent.name for agent in grid.agents)
    chart = TernaryChart(
        title=f"{first}, {second} and {third} at {number_text(grid.dose_pct)} %",
        agents=(first, second, third),
        cells=tuple(
            TernaryCell(_three(point.shares), point.kind, stiffness_label(point))
            for point in grid.ratios
        ),
        categories=_categories(),
        current=_three(grid.shares),
        marks=tuple(TernaryMark(best.what, _three(best.shares)) for best in grid.best),
    )
    says = (
        "Each corner is all of one agent; each step is 10 % of the agents. The numbers are the "
        "stiffness in kPa (k: thousands); – is no gel. The star is this blend."
    )
    return BlendChart(
        "triangle", "Every ratio of the three", says, ternary_chart_svg(chart),
        _table(grid, grid.ratios),
    )  # fmt: skip


def _three(shares: tuple[float, ...]) -> tuple[float, float, float]:
    first, second, _ = shares
    # The last is what is left, so that rounding never breaks the whole.
    return first, second, max(0.0, 1.0 - first - second)


def stiffness_label(point: BlendPoint) -> str:
    """Return the stiffness in at most three letters, so that it fits its cell."""
    if point.modulus_kpa is None:
        return _OFF_MAP
    value = point.modulus_kpa.value
    if value >= 999.5:
        return f"{value / 1000.0:.0f}k"
    return number_text(value, digits=2) if value >= 0.95 else "<1"


def _path(grid: BlendGrid, texture: Texture) -> BlendChart:
    now = _now(texture, f"this blend, {_ratio(grid.shares)}")
    points = grid.ratios[::_EVERY]
    says = (
        "To the right it bends further before it breaks, upward it takes more force. The "
        f"letters run from all {grid.agents[0].line_name} to all {grid.agents[1].line_name}, in "
        "steps of 10 %."
    )
    return _map(grid, "path", "How the ratio moves the texture", says, points, now, _ratio_of)


def _doses(grid: BlendGrid, texture: Texture) -> BlendChart:
    now = _now(texture, f"this blend, {number_text(grid.dose_pct)} %")
    says = (
        f"The same ratio from {number_text(grid.doses[0].dose_pct)} % to "
        f"{number_text(grid.doses[-1].dose_pct)} % in total, in the order of the letters."
    )
    return _map(grid, "doses", "More or less of it", says, grid.doses, now, _dose_of)


def _map(
    grid: BlendGrid, key: str, title: str, says: str, points: tuple[BlendPoint, ...],
    now: TexturePoint | None, label: Callable[[BlendPoint], str],
) -> BlendChart:  # fmt: skip
    """Return a map with the current blend as its first point, and a table of all points."""
    placed = [(point, spot) for point in points if (spot := _point(point, label(point)))]
    drawn = ([] if now is None else [now]) + [one for _, one in placed]
    first = 0 if now is None else 1
    letters = {id(point): letter(first + place) for place, (point, _) in enumerate(placed)}
    letters |= {} if now is None else {id(grid.now): letter(0)}
    svg = ""
    if now is None:
        says = f"{says} This blend itself has no gel to place."
    else:
        says = f"{says} The star is this blend, the oval its doubt."
    if drawn:
        svg = texture_map_svg(TextureMap(f"{title}: {_names(grid)}", tuple(drawn), _regions()))
    else:
        says = "No blend here makes a gel at serving temperature, so there is nothing to place."
    return BlendChart(key, title, says, svg, _table(grid, (grid.now, *points), letters))


def _point(point: BlendPoint, label: str) -> TexturePoint | None:
    if point.stress_kpa is None or point.strain is None:
        return None
    if point.stress_kpa.value <= 0.0 or point.strain.value <= 0.0:
        return None
    return TexturePoint(label, point.strain.value, point.stress_kpa.value)


def _now(texture: Texture, label: str) -> TexturePoint | None:
    at: MapPoint | None = texture.map_point
    if at is None:
        return None
    return TexturePoint(
        label, at.strain, at.stress, at.strain_doubt, at.stress_doubt, at.correlation, "this"
    )


def _table(
    grid: BlendGrid, points: tuple[BlendPoint, ...], letters: dict[int, str] | None = None
) -> ChartTable:
    """Return the numbers of each point: by dose where that changes, else by ratio."""
    by_dose = len({point.dose_pct for point in points}) > 1
    kinds = {one.key: one.name for one in blend_kinds()}
    marks = {best.shares: best.what for best in grid.best}
    if len(grid.best) > 1 and len(marks) == 1:
        marks = {grid.best[0].shares: ", ".join(best.what for best in grid.best)}
    header = (
        "Dose, %" if by_dose else " : ".join(agent.name for agent in grid.agents),
        *(() if letters is None else ("Letter",)),
        "Becomes", "Stiffness, kPa", "Stress at break, kPa", "Strain at break",
        "Thickness, mPa·s", *(("Best",) if letters is None else ()),
    )  # fmt: skip
    rows = [
        (
            number_text(point.dose_pct) if by_dose else _ratio(point.shares),
            *(() if letters is None else (letters.get(id(point), _OFF_MAP),)),
            kinds[point.kind], span_text(point.modulus_kpa), span_text(point.stress_kpa),
            span_text(point.strain), span_text(point.thickness_mpa_s),
            *((marks.get(point.shares, ""),) if letters is None else ()),
        )
        for point in points
    ]  # fmt: skip
    return ChartTable(header, tuple(rows))


def span_text(span: Span | None) -> str:
    """Return a value with its range; a dash where there is none."""
    if span is None:
        return _OFF_MAP
    value, low, high = (number_text(one, digits=2) for one in (span.value, span.low, span.high))
    if low == value == high:
        return value
    return f"{value} ({low} to {high})"


def _categories() -> tuple[BlendCategory, ...]:
    return tuple(BlendCategory(kind.key, kind.name) for kind in blend_kinds())


def _regions() -> tuple[TextureRegion, ...]:
    # An open side reaches beyond any map.
    return tuple(
        TextureRegion(
            one.key, one.name, one.strain_low, one.strain_high or 1e6, one.stress_low,
            one.stress_high or 1e9,
        )
        for one in texture_regions()
    )  # fmt: skip


def _names(grid: BlendGrid) -> str:
    return ", ".join(agent.name for agent in grid.agents)


def _ratio(shares: tuple[float, ...]) -> str:
    return ":".join(f"{100.0 * share:.0f}" for share in shares)


def _ratio_of(point: BlendPoint) -> str:
    return _ratio(point.shares)


def _dose_of(point: BlendPoint) -> str:
    return f"{number_text(point.dose_pct)} %"
