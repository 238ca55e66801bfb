"""Pieces that every drawing shares: its frame for readers, text, legend, and names kept apart."""

import re
import textwrap
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from html import escape

from setwell.documents.amounts import number_text
from setwell.documents.chart_axis import Axis

# Room for a letter and between two lines of text at the largest size of the stylesheets.
LETTER, LEADING = 9.8, 20.0
# Room for the sample in front of a name in a legend.
_SAMPLE = 30.0


@dataclass(frozen=True, slots=True)
class ChartTable:
    """The same numbers as the drawing, for a table beside it."""

    header: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class LegendItem:
    """A name with a small sample, drawn around the middle that is handed in."""

    name: str
    sample: Callable[[float, float], str]


def drawing_key(title: str) -> str:
    """Return a title as part of an id.

    >>> drawing_key("Flow at 20 °C")
    'flow-at-20-c'
    """
    return re.sub(r"[^a-z0-9]+", "-", title.casefold()).strip("-") or "chart"


def opened(kind: str, title: str, said: str, *, key: str, width: float, height: float) -> str:
    """Return the opening of an `<svg>` with the words for those who cannot see it."""
    return (
        f'<svg class="{kind}" role="img" viewBox="0 0 {width:g} {height:g}" '
        f'xmlns="http://www.w3.org/2000/svg" aria-labelledby="{key}-title" '
        f'aria-describedby="{key}-desc">'
        f'<title id="{key}-title">{escape(title)}</title>'
        f'<desc id="{key}-desc">{escape(said)}</desc>'
    )


def window_opened(left: float, top: float, right: float, bottom: float) -> str:
    """Return the opening of an inner frame that cuts off what lies outside."""
    width, height = right - left, bottom - top
    return (
        f'<svg x="{left:.1f}" y="{top:.1f}" width="{width:.1f}" height="{height:.1f}" '
        f'viewBox="{left:.1f} {top:.1f} {width:.1f} {height:.1f}">'
    )


def text_at(x: float, y: float, said: str, kind: str, anchor: str = "start") -> str:
    """Return words with their baseline at a place."""
    return (
        f'<text class="{kind}" x="{x:.1f}" y="{y:.1f}" text-anchor="{anchor}">{escape(said)}</text>'
    )


def width_of(said: str) -> float:
    """Return the room that words need at the largest size of the stylesheets."""
    return len(said) * LETTER


def wrapped(name: str, letters: int) -> list[str]:
    """Return a name in lines of so many letters; a number stays with its degrees."""
    kept = name.replace(" °", "\u00a0°")
    return textwrap.wrap(kept, letters, break_long_words=False)


def scale(x_axis: Axis, y_axis: Axis, x_label: str, y_label: str, count: int = 5) -> Iterable[str]:
    """Draw a grid across with about `count` numbers, ticks along the bottom, and both labels."""
    left, right, bottom = x_axis.start, x_axis.end, y_axis.start
    for value in y_axis.ticks(count):
        y = y_axis.at(value)
        yield f'<path class="grid" d="M{left:.1f} {y:.1f}H{right:.1f}"/>'
        yield text_at(left - 7, y + 5, number_text(value), "tick", "end")
    for value in x_axis.ticks():
        x = x_axis.at(value)
        yield f'<path class="axis" d="M{x:.1f} {bottom:.1f}v6"/>'
        yield text_at(x, bottom + 23, number_text(value), "tick", "middle")
    yield f'<path class="axis" d="M{left:.1f} {bottom:.1f}H{right:.1f}"/>'
    yield text_at((left + right) / 2, bottom + 50, x_label, "label", "middle")
    yield text_at(6, 16, y_label, "label")


def closed_path(points: Iterable[tuple[float, float]], kind: str, more: str = "") -> str:
    """Return a closed shape through points of the drawing."""
    corners = "L".join(f"{x:.1f} {y:.1f}" for x, y in points)
    return f'<path class="{kind}"{more} d="M{corners}Z"/>'


def legend(
    items: Sequence[LegendItem], left: float, right: float, top: float
) -> tuple[list[str], float]:
    """Return the names with their samples in rows, and the height they take."""
    parts: list[str] = []
    x, y = left, top
    for item in items:
        width = _SAMPLE + width_of(item.name) + 12.0
        if x > left and x + width > right:
            x, y = left, y + LEADING + 4.0
        parts.append(item.sample(x + 12.0, y + 10.0))
        parts.append(text_at(x + _SAMPLE, y + 15.5, item.name, "key"))
        x += width
    return parts, (y + LEADING + 4.0 - top) if items else 0.0


def moved_apart(
    tops: Sequence[float], heights: Sequence[float], least: float, most: float, gap: float = 4.0
) -> list[float]:
    """Return tops in the same order that do not overlap and stay inside where there is room."""
    found: list[float] = []
    floor = least
    for top, height in zip(tops, heights, strict=True):
        found.append(max(top, floor))
        floor = found[-1] + height + gap
    ceiling = most
    for place in range(len(found) - 1, -1, -1):
        found[place] = max(min(found[place], ceiling - heights[place]), least)
        ceiling = found[place] - gap
    return found


def stacked(
    places: Sequence[float], names: Sequence[str], right: float
) -> list[tuple[float, str, int]]:
    """Return where each name over a vertical mark stands: place, anchor and row from below.

    A name reaches to the right of its mark, or to the left where the room ends.
    """
    wanted = []
    for number, (x, name) in enumerate(zip(places, names, strict=True)):
        width = width_of(name) + 8.0
        is_left = x + width > right
        span = (x - width, x + 2.0) if is_left else (x - 2.0, x + width)
        # The names that the fewest lines can cross come first, and so lowest.
        wanted.append((is_left, x if is_left else -x, number, span))
    done: list[tuple[float, tuple[float, float], int]] = []
    rows = [0] * len(wanted)
    for _, _, number, span in sorted(wanted):
        choices = range(len(done) + 1)
        rows[number] = min(choices, key=lambda row: _crossings(places[number], span, row, done))
        done.append((places[number], span, rows[number]))
    sides = {number: "end" if is_left else "start" for is_left, _, number, _ in wanted}
    return [(x, sides[number], rows[number]) for number, x in enumerate(places)]


def _crossings(
    x: float,
    span: tuple[float, float],
    row: int,
    done: Sequence[tuple[float, tuple[float, float], int]],
) -> int:
    """Count what a name in a row would cross; another name counts most."""
    found = 0
    for other_x, other, other_row in done:
        if row == other_row and span[0] < other[1] and other[0] < span[1]:
            found += 100
        found += other_row > row and span[0] < other_x < span[1]
        found += other_row < row and other[0] < x < other[1]
    return found
