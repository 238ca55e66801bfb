"""Blends of three agents in a triangle: what each blend becomes, and where the formula lies."""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import partial

from setwell.documents.amounts import number_text
from setwell.documents.blend_categories import (
    BlendCategory,
    CategoryStyle,
    category_legend,
    category_styles,
    filled,
    letter_at,
    pattern_definitions,
)
from setwell.documents.drawing import (
    LEADING,
    LETTER,
    LegendItem,
    closed_path,
    drawing_key,
    legend,
    opened,
    text_at,
    wrapped,
)
from setwell.documents.ratio_band import (
    RatioBand,
    RatioCell,
    RatioLine,
    RatioMark,
    ratio_band_svg,
)
from setwell.documents.ternary_grid import (
    Shares,
    Triangle,
    boundary,
    cell_corners,
    center,
    connected,
    divisions,
    middle_cell,
)
from setwell.documents.texture_point import point_shape
from setwell.errors import InputError

__all__ = [
    "BlendCategory", "RatioBand", "RatioCell", "RatioLine", "RatioMark", "TernaryCell",
    "TernaryChart", "TernaryMark", "ratio_band_svg", "ternary_chart_svg",
]  # fmt: skip

_WIDTH, _LEFT, _SIDE = 480.0, 66.0, 348.0
# Between the side of the triangle and its numbers, and its name.
_NUMBER, _NAME = 9.0, 44.0
_TICKS = (0.2, 0.4, 0.6, 0.8)
_CORNER_LETTERS = 18
_SHARES_OFF = 1e-6


@dataclass(frozen=True, slots=True)
class TernaryCell:
    """One blend by the shares of its three agents, which make 1, and what it becomes."""

    shares: Shares
    category: str
    label: str = ""

    def __post_init__(self) -> None:
        """Check that the shares make a whole."""
        _checked(self.shares)


@dataclass(frozen=True, slots=True)
class TernaryMark:
    """A blend worth a mark, such as the strongest."""

    label: str
    shares: Shares

    def __post_init__(self) -> None:
        """Check that the shares make a whole."""
        _checked(self.shares)


@dataclass(frozen=True, slots=True)
class TernaryChart:
    """What the triangle shows; labels of cells are written where there is room for all."""

    title: str
    agents: tuple[str, str, str]
    cells: tuple[TernaryCell, ...]
    categories: tuple[BlendCategory, ...]
    current: Shares | None = None
    marks: tuple[TernaryMark, ...] = ()


def ternary_chart_svg(chart: TernaryChart) -> str:
    """Return the triangle as one `<svg>` element; css/texture_chart.css gives the colors."""
    key = drawing_key(chart.title)
    styles = category_styles(chart.categories, (cell.category for cell in chart.cells), key)
    top_name = wrapped(chart.agents[0], _CORNER_LETTERS)
    triangle = Triangle(_LEFT, 8.0 + LEADING * len(top_name) + 6.0, _SIDE)
    foot = triangle.top + triangle.height
    low_names = max(len(wrapped(name, _CORNER_LETTERS)) for name in chart.agents[1:])
    start = foot + 32.0 + LEADING * (low_names + 1) + 10.0
    items = [*category_legend(styles.values()), *_mark_legend(chart)]
    names, height = legend(items, 10.0, _WIDTH, start)
    count = divisions([cell.shares for cell in chart.cells])
    parts = [
        opened(
            "texture-chart ternary-chart", chart.title, description(chart), key=key,
            width=_WIDTH, height=start + height,
        ),
        pattern_definitions(styles.values()),
        *_cells(chart, triangle, styles, count),
        *_sides(chart.agents, triangle),
        *_corners(chart.agents, triangle),
        *(_labels(chart, triangle, count) if _has_room(chart, count) else ()),
        *(() if _has_room(chart, count) else _letters(chart, triangle, styles, count)),
        *_marks(chart, triangle),
        *names,
        "</svg>",
    ]  # fmt: skip
    return "".join(parts)


def description(chart: TernaryChart) -> str:
    """Return in words how much of the triangle each category takes, and what is marked."""
    said = [f"Blends of {', '.join(chart.agents[:2])} and {chart.agents[2]}."]
    for one in chart.categories:
        found = sum(cell.category == one.key for cell in chart.cells)
        if found:
            said.append(f"{one.name}: {found} of {len(chart.cells)} blends.")
    for label, shares in _marked(chart):
        parts = zip(_percents(shares), chart.agents, strict=True)
        said.append(f"{label}: {', '.join(f'{share} % {agent}' for share, agent in parts)}.")
    return " ".join(said)


def _checked(shares: Shares) -> None:
    if any(not 0.0 <= one <= 1.0 for one in shares) or abs(sum(shares) - 1.0) > _SHARES_OFF:
        given = ", ".join(f"{one:g}" for one in shares)
        raise InputError(
            f"The shares {given} of a blend do not make a whole.",
            hint="Give three numbers from 0 to 1 that add up to 1.",
        )


def _marked(chart: TernaryChart) -> list[tuple[str, Shares]]:
    now = [] if chart.current is None else [("this formula", chart.current)]
    return now + [(mark.label, mark.shares) for mark in chart.marks]


def _percents(shares: Shares) -> tuple[str, str, str]:
    first, second, third = (number_text(100.0 * one) for one in shares)
    return first, second, third


def _path(points: Iterable[tuple[float, float]]) -> str:
    return "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in points) + "Z"


def _steps(cell: TernaryCell, count: int) -> tuple[int, int, int]:
    first, second, third = (round(count * one) for one in cell.shares)
    return first, second, third


def _drawn_corners(triangle: Triangle, shares: Shares, count: int) -> list[tuple[float, float]]:
    return [triangle.at(corner) for corner in cell_corners(shares, count)]


def _cells(
    chart: TernaryChart, triangle: Triangle, styles: dict[str, CategoryStyle], count: int
) -> Iterable[str]:
    """Draw the cells of each category as one area, which leaves no seams, and its outline."""
    for key, style in styles.items():
        cells = [cell_corners(one.shares, count) for one in chart.cells if one.category == key]
        if cells:
            areas = (_path(triangle.at(corner) for corner in cell) for cell in cells)
            yield filled("".join(areas), style)
            edges = (_line(triangle.at(a), triangle.at(b)) for a, b in boundary(cells, count))
            yield f'<path class="outline" d="{"".join(edges)}"/>'


def _line(start: tuple[float, float], end: tuple[float, float]) -> str:
    return f"M{start[0]:.1f} {start[1]:.1f}L{end[0]:.1f} {end[1]:.1f}"


def _letters(
    chart: TernaryChart, triangle: Triangle, styles: dict[str, CategoryStyle], count: int
) -> Iterable[str]:
    """Write one letter into each stretch of blends that become the same."""
    keys = {_steps(cell, count): cell.category for cell in chart.cells}
    for group in connected(keys):
        a, b, c = middle_cell(group)
        corners = _drawn_corners(triangle, (a / count, b / count, c / count), count)
        yield letter_at(*center(corners), styles[keys[a, b, c]])


def _has_room(chart: TernaryChart, count: int) -> bool:
    longest = max((len(cell.label) for cell in chart.cells), default=0)
    return 0 < longest * LETTER <= _SIDE / count


def _labels(chart: TernaryChart, triangle: Triangle, count: int) -> Iterable[str]:
    for cell in chart.cells:
        # The middle of what is left of a cell at the edge keeps clear of the percent outside.
        x, y = center(_drawn_corners(triangle, cell.shares, count))
        yield text_at(x, y + 5.5, cell.label, "reading", "middle")


def _sides(agents: tuple[str, str, str], triangle: Triangle) -> Iterable[str]:
    """Draw the edges with percent; each number stands where its line of equal share ends."""
    corners = [triangle.at(one) for one in ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))]
    yield closed_path(corners, "outline")
    for share in _TICKS:
        said, rest = number_text(100.0 * share), 1.0 - share
        # Left edge: the first agent; base: the second; right edge: the third.
        x, y = triangle.at((share, rest, 0.0))
        yield f'<path class="axis" d="M{x:.1f} {y:.1f}h-6"/>'
        yield text_at(x - _NUMBER, y + 5.5, said, "tick", "end")
        x, y = triangle.at((0.0, share, rest))
        yield f'<path class="axis" d="M{x:.1f} {y:.1f}l3 5.2"/>'
        yield text_at(x + 5.0, y + 21.0, said, "tick", "middle")
        x, y = triangle.at((rest, 0.0, share))
        yield f'<path class="axis" d="M{x:.1f} {y:.1f}l3 -5.2"/>'
        yield text_at(x + _NUMBER - 2.0, y - 5.0, said, "tick")
    middle = triangle.top + triangle.height / 2.0
    left, right = triangle.left + _SIDE / 4.0, triangle.left + 0.75 * _SIDE
    yield _turned(left - _NAME, middle - _NAME / 2.0, f"{agents[0]}, % →", -60)
    yield _turned(right + _NAME, middle - _NAME / 2.0, f"{agents[2]}, % →", 60)
    foot = triangle.top + triangle.height + 44.0
    yield text_at(triangle.left + _SIDE / 2.0, foot, f"← {agents[1]}, %", "label", "middle")


def _turned(x: float, y: float, said: str, degrees: float) -> str:
    text = text_at(0.0, 0.0, said, "label", "middle")
    return f'<g transform="translate({x:.1f} {y:.1f}) rotate({degrees})">{text}</g>'


def _corners(agents: tuple[str, str, str], triangle: Triangle) -> Iterable[str]:
    """Write at each corner the agent that is alone there."""
    middle = triangle.left + _SIDE / 2.0
    for number, line in enumerate(wrapped(agents[0], _CORNER_LETTERS)):
        yield text_at(middle, 18.0 + LEADING * number, line, "name", "middle")
    foot = triangle.top + triangle.height + 44.0 + LEADING
    for x, name, anchor in ((6.0, agents[1], "start"), (_WIDTH - 6.0, agents[2], "end")):
        for number, line in enumerate(wrapped(name, _CORNER_LETTERS)):
            yield text_at(x, foot + LEADING * number, line, "name", anchor)


def _marks(chart: TernaryChart, triangle: Triangle) -> Iterable[str]:
    for number, mark in enumerate(chart.marks, start=1):
        yield _numbered(number, *triangle.at(mark.shares))
    if chart.current is not None:
        yield point_shape("this", *triangle.at(chart.current))


def _numbered(number: int, x: float, y: float) -> str:
    ring = f'<circle class="spot" cx="{x:.1f}" cy="{y:.1f}" r="11"/>'
    return ring + text_at(x, y + 5.5, str(number), "number", "middle")


def _mark_legend(chart: TernaryChart) -> Iterable[LegendItem]:
    if chart.current is not None:
        yield LegendItem("this formula", partial(point_shape, "this"))
    for number, mark in enumerate(chart.marks, start=1):
        yield LegendItem(mark.label, partial(_numbered, number))
