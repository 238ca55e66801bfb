"""What drives a spread, as bars: the share of each cause alone, and with all it acts through.

Colors, widths and text sizes come from css/strangers.css through class names; the share alone is
solid and the share with others is an outline around it, so nothing depends on color alone.
"""

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from setwell.documents.chart_axis import Axis
from setwell.documents.drawing import (
    ChartTable,
    LegendItem,
    drawing_key,
    legend,
    opened,
    text_at,
    wrapped,
)
from setwell.errors import InputError

# The drawing, in its own units; the page scales it.
_WIDTH, _LEFT, _RIGHT, _TOP = 480.0, 8.0, 8.0, 8.0
_BAR, _GAP, _LEADING = 20.0, 14.0, 19.0
_LABEL_LETTERS = 46
_ROOM_BELOW = 56.0


@dataclass(frozen=True, slots=True)
class DriverBar:
    """One cause; `alone` and `total` are shares of the spread from 0 to 1."""

    name: str
    alone: float
    total: float

    def __post_init__(self) -> None:
        """Check that both shares are numbers."""
        if not (math.isfinite(self.alone) and math.isfinite(self.total)):
            raise InputError(f"The share of “{self.name}” is not a number.")


@dataclass(frozen=True, slots=True)
class DriverBars:
    """What a drawing shows, strongest cause first."""

    title: str
    of: str
    bars: tuple[DriverBar, ...]


def driver_bars_svg(chart: DriverBars) -> str:
    """Return the bars as one `<svg>` element, ready to stand in a page."""
    heads, room = legend(
        (
            LegendItem("by itself", _sample("alone")),
            LegendItem("together with others", _sample("total")),
        ),
        _LEFT,
        _WIDTH - _RIGHT,
        _TOP,
    )
    top = _TOP + room + 8.0
    tall = top + sum(_height(bar) for bar in chart.bars)
    axis = Axis(0.0, 1.0, _LEFT, _WIDTH - _RIGHT)
    parts = [
        opened(
            "driver-bars", chart.title, driver_bars_said(chart), key=drawing_key(chart.title),
            width=_WIDTH, height=tall + _ROOM_BELOW,
        ),
        *heads,
        *_scale(axis, top, tall, chart.of),
        *_rows(chart.bars, axis, top),
        "</svg>",
    ]  # fmt: skip
    return "".join(parts)


def driver_bars_said(chart: DriverBars) -> str:
    """Return the bars in words, for who cannot see them."""
    if not chart.bars:
        return f"Nothing drives {chart.of}."
    rows = "; ".join(
        f"{bar.name}: {share_text(bar.alone)} by itself, {share_text(bar.total)} with others"
        for bar in chart.bars
    )
    return f"Share of {chart.of}. {rows}."


def driver_bars_table(chart: DriverBars) -> ChartTable:
    """Return the same numbers as a table."""
    return ChartTable(
        ("What differs", "By itself", "Together with others"),
        tuple((bar.name, share_text(bar.alone), share_text(bar.total)) for bar in chart.bars),
    )


def share_text(share: float) -> str:
    """Return a share as a percentage that does not pretend to know more than it does.

    >>> share_text(0.412), share_text(0.004), share_text(-0.01), share_text(1.02)
    ('41 %', 'under 1 %', '0 %', '100 %')
    """
    percent = 100.0 * min(max(share, 0.0), 1.0)
    if 0.0 < percent < 1.0:
        return "under 1 %"
    return f"{percent:.0f} %"


def _height(bar: DriverBar) -> float:
    return len(_lines(bar)) * _LEADING + _BAR + _GAP


def _lines(bar: DriverBar) -> list[str]:
    shares = share_text(bar.alone), share_text(bar.total)
    said = shares[0] if shares[0] == shares[1] else f"{shares[0]}, with others {shares[1]}"
    return wrapped(f"{bar.name}: {said}".replace(" %", "\u00a0%"), _LABEL_LETTERS)


def _rows(bars: Iterable[DriverBar], axis: Axis, top: float) -> Iterable[str]:
    for bar in bars:
        lines = _lines(bar)
        for number, line in enumerate(lines):
            yield text_at(axis.start, top + 14.0 + number * _LEADING, line, "name")
        y = top + len(lines) * _LEADING
        # Shares found by sampling may lie a little outside of 0 to 1.
        yield _bar("total", axis, max(bar.total, bar.alone), y)
        yield _bar("alone", axis, bar.alone, y)
        top += _height(bar)


def _bar(kind: str, axis: Axis, share: float, y: float) -> str:
    width = axis.at(axis.clip(share)) - axis.start
    return (
        f'<rect class="{kind}" x="{axis.start:.1f}" y="{y:.1f}" width="{width:.1f}" '
        f'height="{_BAR:g}"/>'
    )


def _scale(axis: Axis, top: float, bottom: float, of: str) -> Iterable[str]:
    for value in axis.ticks(4):
        x = axis.at(value)
        anchor = "start" if value <= 0.0 else "end" if value >= 1.0 else "middle"
        yield f'<path class="grid" d="M{x:.1f} {top:.1f}V{bottom:.1f}"/>'
        yield text_at(x, bottom + 18.0, f"{100.0 * value:.0f} %", "tick", anchor)
    middle = (axis.start + axis.end) / 2
    yield text_at(middle, bottom + 42.0, f"Share of {of}", "label", "middle")


def _sample(kind: str) -> Callable[[float, float], str]:
    def draw(x: float, y: float) -> str:
        return f'<rect class="{kind}" x="{x - 10:.1f}" y="{y - 7:.1f}" width="20" height="14"/>'

    return draw
