"""Two agents from all of one to all of the other: what the blend becomes, and how it changes."""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import groupby

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
from setwell.documents.chart_axis import Axis
from setwell.documents.drawing import (
    LEADING,
    closed_path,
    drawing_key,
    legend,
    opened,
    stacked,
    text_at,
    window_opened,
    wrapped,
)
from setwell.errors import InputError

_WIDTH, _LEFT, _RIGHT = 480.0, 27.0, 453.0
# Room for the name of a line, for its drawing, for the band, and for the numbers below.
_NAME, _PANEL, _BAND, _NUMBERS = 25.0, 62.0, 40.0, 30.0
_END_LETTERS = 22


@dataclass(frozen=True, slots=True)
class RatioCell:
    """One blend by the share of the second agent, and what it becomes."""

    share: float
    category: str


@dataclass(frozen=True, slots=True)
class RatioLine:
    """A property over the shares of the second agent, drawn on a scale of its own from zero."""

    name: str
    unit: str
    shares: tuple[float, ...]
    values: tuple[float, ...]
    low: tuple[float, ...] = ()
    high: tuple[float, ...] = ()

    def __post_init__(self) -> None:
        """Check that every point has all its numbers."""
        for part in (self.values, self.low, self.high):
            if len(part) != len(self.shares) and (part or part is self.values):
                raise InputError(
                    f"The line “{self.name}” has {len(self.shares)} shares and {len(part)} values.",
                    hint="Give one for each share.",
                )
        if bool(self.low) != bool(self.high):
            raise InputError(
                f"The line “{self.name}” has only one side of its range.",
                hint="Give both low and high, or neither.",
            )


@dataclass(frozen=True, slots=True)
class RatioMark:
    """A ratio worth a mark, such as the best at small strain."""

    label: str
    share: float


@dataclass(frozen=True, slots=True)
class RatioBand:
    """What the band shows; all shares are of the second agent, from 0 to 1."""

    title: str
    agents: tuple[str, str]
    cells: tuple[RatioCell, ...]
    categories: tuple[BlendCategory, ...]
    lines: tuple[RatioLine, ...] = ()
    marks: tuple[RatioMark, ...] = ()
    current: float | None = None

    def __post_init__(self) -> None:
        """Check that all shares lie from 0 to 1."""
        shares = [cell.share for cell in self.cells] + [mark.share for mark in self.marks]
        shares += [share for line in self.lines for share in line.shares]
        shares += [] if self.current is None else [self.current]
        for share in shares:
            if not 0.0 <= share <= 1.0:
                raise InputError(
                    f"The share {share:g} of {self.agents[1]} is not part of a whole.",
                    hint="Give a number from 0 to 1.",
                )

    @property
    def all_marks(self) -> tuple[RatioMark, ...]:
        """Return the marks with the current ratio last."""
        now = () if self.current is None else (RatioMark("this formula", self.current),)
        return (*self.marks, *now)


def ratio_band_svg(band: RatioBand) -> str:
    """Return the band as one `<svg>` element; css/texture_chart.css gives colors and sizes."""
    key = drawing_key(band.title)
    styles = category_styles(band.categories, (cell.category for cell in band.cells), key)
    axis = Axis(0.0, 1.0, _LEFT, _RIGHT)
    names = [_mark_text(mark) for mark in band.all_marks]
    places = stacked([axis.at(mark.share) for mark in band.all_marks], names, _WIDTH)
    top = 10.0 + LEADING * (1 + max((row for _, _, row in places), default=-1))
    band_top = top + len(band.lines) * (_NAME + _PANEL) + 12.0
    foot = band_top + _BAND
    ends = max(len(wrapped(f"100 % {agent}", _END_LETTERS)) for agent in band.agents)
    start = foot + _NUMBERS + LEADING * ends + 8.0
    legend_parts, height = legend(category_legend(styles.values()), 10.0, _WIDTH, start)
    parts = [
        opened(
            "texture-chart ratio-band", band.title, description(band), key=key,
            width=_WIDTH, height=start + height,
        ),
        pattern_definitions(styles.values()),
        *_cells(band, axis, styles, band_top),
        *_scale(band, axis, foot),
        *_mark_lines(band, places, top, foot),
        *_letters(band, axis, styles, band_top),
        *(
            part
            for number, line in enumerate(band.lines)
            for part in _panel(line, number + 1, axis, top + number * (_NAME + _PANEL))
        ),
        *_mark_names(band, names, places, top),
        *legend_parts,
        "</svg>",
    ]  # fmt: skip
    return "".join(parts)


def description(band: RatioBand) -> str:
    """Return in words what the band becomes along its length, how lines go and what is marked."""
    kinds = {one.key: one.name for one in band.categories}
    said = [f"From 100 % {band.agents[0]} to 100 % {band.agents[1]}."]
    for key, low, high in _stretches(band):
        said.append(f"{kinds[key]}: {_percent(low)} to {_percent(high)} {band.agents[1]}.")
    for line in band.lines:
        found = [(v, s) for s, v in zip(line.shares, line.values, strict=True) if math.isfinite(v)]
        if found:
            most, share = max(found)
            unit = f" {line.unit}" if line.unit else ""
            said.append(
                f"{line.name}: {_number(found[0][0])} to {_number(found[-1][0])}{unit}, "
                f"most {_number(most)} at {_percent(share)} {band.agents[1]}."
            )
    said += [f"{mark.label}: {_percent(mark.share)}." for mark in band.all_marks]
    return " ".join(said)


def _number(value: float) -> str:
    return number_text(value, digits=2)


def _percent(share: float) -> str:
    return f"{number_text(100.0 * share)} %"


def _mark_text(mark: RatioMark) -> str:
    second = round(100.0 * mark.share)
    return f"{mark.label} {100 - second}:{second}"


def _stretches(band: RatioBand) -> list[tuple[str, float, float]]:
    """Return each run of one category with its ends, halfway to the next blend."""
    cells = sorted(band.cells, key=lambda cell: cell.share)
    found: list[tuple[str, float, float]] = []
    place = 0
    for key, run in groupby(cells, key=lambda cell: cell.category):
        count = len(list(run))
        after = place + count
        low = found[-1][2] if found else 0.0
        high = 1.0 if after == len(cells) else (cells[after - 1].share + cells[after].share) / 2.0
        found.append((key, low, high))
        place = after
    return found


def _cells(
    band: RatioBand, axis: Axis, styles: dict[str, CategoryStyle], top: float
) -> Iterable[str]:
    for key, low, high in _stretches(band):
        x0, x1 = axis.at(low), axis.at(high)
        path = f"M{x0:.1f} {top:.1f}H{x1:.1f}V{top + _BAND:.1f}H{x0:.1f}Z"
        yield filled(path, styles[key])
        yield f'<path class="outline" d="{path}"/>'


def _letters(
    band: RatioBand, axis: Axis, styles: dict[str, CategoryStyle], top: float
) -> Iterable[str]:
    for key, low, high in _stretches(band):
        yield letter_at(axis.at((low + high) / 2.0), top + _BAND / 2.0, styles[key])


def _scale(band: RatioBand, axis: Axis, top: float) -> Iterable[str]:
    for value in (0.0, 0.25, 0.5, 0.75, 1.0):
        x = axis.at(value)
        yield f'<path class="axis" d="M{x:.1f} {top:.1f}v6"/>'
        second = round(100.0 * value)
        yield text_at(x, top + 23.0, f"{100 - second}:{second}", "tick", "middle")
    for x, agent, anchor in ((4.0, band.agents[0], "start"), (_WIDTH - 4.0, band.agents[1], "end")):
        for number, line in enumerate(wrapped(f"100 % {agent}", _END_LETTERS)):
            yield text_at(x, top + _NUMBERS + 16.0 + LEADING * number, line, "name", anchor)


def _panel(line: RatioLine, number: int, axis: Axis, top: float) -> Iterable[str]:
    """Draw one line from zero to its own highest value, with its least and most in words."""
    points = [
        (share, value)
        for share, value in zip(line.shares, line.values, strict=True)
        if math.isfinite(value)
    ]
    values = [value for _, value in points]
    span = f"{_number(min(values))}–{_number(max(values))} {line.unit}" if values else "cannot tell"
    y_axis = Axis(
        0.0, max([v for v in (*values, *line.high) if math.isfinite(v)], default=0.0) or 1.0,
        top + _NAME + _PANEL, top + _NAME,
    )  # fmt: skip
    yield f'<path class="grid" d="M{axis.start:.1f} {y_axis.start:.1f}H{axis.end:.1f}"/>'
    yield window_opened(axis.start - 3, y_axis.end - 3, axis.end + 3, y_axis.start + 3)
    if line.low:
        sides = zip(line.shares, line.low, line.high, strict=True)
        kept = [one for one in sides if math.isfinite(one[1]) and math.isfinite(one[2])]
        edge = [(s, low) for s, low, _ in kept] + [(s, high) for s, _, high in reversed(kept)]
        drawn = ((axis.at(s), y_axis.at(v)) for s, v in edge)
        yield closed_path(drawn, f"range range-{number}")
    corners = "L".join(f"{axis.at(s):.1f} {y_axis.at(v):.1f}" for s, v in points)
    yield f'<path class="line line-{number}" fill="none" d="M{corners}"/>' if points else ""
    yield "</svg>"
    yield text_at(4.0, top + 17.0, f"{line.name}: {span.strip()}", "reading")


def _mark_lines(
    band: RatioBand, places: list[tuple[float, str, int]], top: float, foot: float
) -> Iterable[str]:
    for mark, (x, _, row) in zip(band.all_marks, places, strict=True):
        is_now = mark.label == "this formula"
        dashes = "" if is_now else ' stroke-dasharray="3 4"'
        kind = "mark mark-now" if is_now else "mark"
        up = top - 17.0 - LEADING * row
        yield f'<path class="{kind}"{dashes} d="M{x:.1f} {up:.1f}V{foot:.1f}"/>'


def _mark_names(
    band: RatioBand, names: list[str], places: list[tuple[float, str, int]], top: float
) -> Iterable[str]:
    for mark, name, (x, anchor, row) in zip(band.all_marks, names, places, strict=True):
        kind = "name" if mark.label == "this formula" else "note"
        side = 5.0 if anchor == "start" else -5.0
        yield text_at(x + side, top - 5.0 - LEADING * row, name, kind, anchor)
