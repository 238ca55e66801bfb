"""How many batches come out how: counts along one quantity, with the window to land in.

Colors, widths and text sizes come from css/strangers.css through class names; what lies outside
of the window is drawn hollow, so nothing depends on color alone.
"""

import math
from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from setwell.documents.amounts import number_text
from setwell.documents.chart_axis import Axis
from setwell.documents.drawing import ChartTable, drawing_key, opened, text_at, width_of
from setwell.documents.log_axis import LogAxis
from setwell.errors import InputError

_WIDTH, _HEIGHT = 480.0, 236.0
_LEFT, _RIGHT, _TOP, _BOTTOM = 14.0, 14.0, 50.0, 58.0
# From this ratio of the ends on, equal steps are equal factors.
_WIDE = 12.0
# Beyond these shares of the draws lies the odd batch that would press all others together.
_CUT = (0.005, 0.995)
_BINS = 28


@dataclass(frozen=True, slots=True)
class OutcomeStrip:
    """Outcomes of many batches; a side of the window that is open is None."""

    title: str
    label: str
    unit: str
    values: tuple[float, ...]
    low: float | None = None
    high: float | None = None
    typical: float | None = None

    def __post_init__(self) -> None:
        """Check the window."""
        if self.low is not None and self.high is not None and self.low >= self.high:
            raise InputError(f"The window of {self.label} has no room between its ends.")


@dataclass(frozen=True, slots=True)
class _Bin:
    start: float
    end: float
    count: int
    is_inside: bool

    @property
    def density(self) -> float:
        return self.count / (self.end - self.start)


def outcome_strip_svg(chart: OutcomeStrip) -> str:
    """Return the strip as one `<svg>` element, ready to stand in a page."""
    axis = _axis(chart)
    head = opened(
        "outcome-strip", chart.title, outcome_said(chart), key=drawing_key(chart.title),
        width=_WIDTH, height=_HEIGHT,
    )  # fmt: skip
    if axis is None:
        return f"{head}{text_at(_LEFT, _TOP, 'No batch has this number.', 'note')}</svg>"
    return "".join(
        [head, *_window(chart, axis), *_bars(chart, axis), *_typical(chart, axis),
         *_scale(chart, axis), "</svg>"]
    )  # fmt: skip


def outcome_said(chart: OutcomeStrip) -> str:
    """Return in words where the batches lie, for who cannot see them."""
    values = _finite(chart.values)
    if not values:
        return f"No batch has a number for {chart.label}."
    below, inside, above = _counted(chart, values)
    ends = [_quantile(values, share) for share in (0.05, 0.5, 0.95)]
    said = [
        f"{chart.label}: half of the batches below {_with_unit(ends[1], chart.unit)}, "
        f"nine of ten from {number_text(ends[0])} to {_with_unit(ends[2], chart.unit)}."
    ]
    if chart.low is not None or chart.high is not None:
        said.append(
            f"Wanted: {window_text(chart.low, chart.high, chart.unit)}. "
            f"Too low {_percent(below, len(values))}, right {_percent(inside, len(values))}, "
            f"too high {_percent(above, len(values))}."
        )
    return " ".join(said)


def outcome_table(chart: OutcomeStrip) -> ChartTable:
    """Return the same numbers as a table: what so many of 100 batches stay under."""
    values = _finite(chart.values)
    if not values:
        return ChartTable(("Batches", chart.label), ())
    rows = [
        (f"{100 * share:.0f} of 100", f"{_with_unit(_quantile(values, share), chart.unit)} or less")
        for share in (0.05, 0.25, 0.5, 0.75, 0.95)
    ]
    if chart.low is not None or chart.high is not None:
        wanted = f"wanted: {window_text(chart.low, chart.high, chart.unit)}"
        said = ("too low", wanted, "too high")
        counts = _counted(chart, values)
        rows += [
            (_percent(count, len(values)), one) for count, one in zip(counts, said, strict=True)
        ]
    return ChartTable(("Batches", chart.label), tuple(rows))


def window_text(low: float | None, high: float | None, unit: str) -> str:
    """Return a window in words.

    >>> window_text(2.0, 8.0, "kPa"), window_text(2.0, None, "kPa"), window_text(None, 8.0, "kPa")
    ('2 to 8 kPa', '2 kPa or more', '8 kPa or less')
    """
    if low is not None and high is not None:
        return f"{number_text(low)} to {_with_unit(high, unit)}"
    if low is not None:
        return f"{_with_unit(low, unit)} or more"
    return "any" if high is None else f"{_with_unit(high, unit)} or less"


def _axis(chart: OutcomeStrip) -> Axis | LogAxis | None:
    values = _finite(chart.values)
    if not values:
        return None
    ends = [_quantile(values, share) for share in _CUT]
    known = [*ends, *(one for one in (chart.low, chart.high, chart.typical) if one is not None)]
    low, high = min(known), max(known)
    right = _WIDTH - _RIGHT
    if low > 0.0 and high / low > _WIDE:
        return LogAxis(low / 1.1, high * 1.1, _LEFT, right)
    margin = 0.04 * (high - low) or 0.1 * abs(high) or 0.5
    return Axis(low - margin, high + margin, _LEFT, right)


def _bars(chart: OutcomeStrip, axis: Axis | LogAxis) -> Iterable[str]:
    """Draw one bar for each bin; its area is the count, as bins differ a little in width."""
    base, bins = _HEIGHT - _BOTTOM, _binned(chart, axis)
    most = max((one.density for one in bins), default=0.0)
    for one in bins:
        if not one.count:
            continue
        tall = max((base - _TOP) * one.density / most, 1.5)
        kind = "inside" if one.is_inside else "outside"
        yield (
            f'<rect class="{kind}" x="{one.start + 0.8:.1f}" y="{base - tall:.1f}" '
            f'width="{max(one.end - one.start - 1.6, 0.8):.1f}" height="{tall:.1f}"/>'
        )


def _binned(chart: OutcomeStrip, axis: Axis | LogAxis) -> list[_Bin]:
    """Count the batches in steps along the paper; ends of the window are ends of bins."""
    ends = [one for one in (chart.low, chart.high) if one is not None and axis.holds(one)]
    places = sorted({axis.start, axis.end, *(axis.at(one) for one in ends)})
    edges = [places[0]]
    for start, end in pairwise(places):
        count = max(1, round((end - start) / (axis.end - axis.start) * _BINS))
        edges += [start + (end - start) * step / count for step in range(1, count + 1)]
    counts = [0] * (len(edges) - 1)
    for value in _finite(chart.values):
        # The odd batch beyond the ends is counted at the end.
        place = bisect_right(edges, axis.at(axis.clip(value))) - 1
        counts[min(max(place, 0), len(counts) - 1)] += 1
    return [
        _Bin(start, end, count, _holds(chart, axis, (start + end) / 2))
        for (start, end), count in zip(pairwise(edges), counts, strict=True)
    ]


def _holds(chart: OutcomeStrip, axis: Axis | LogAxis, place: float) -> bool:
    low = -math.inf if chart.low is None else axis.at(chart.low)
    high = math.inf if chart.high is None else axis.at(chart.high)
    return low <= place <= high


def _window(chart: OutcomeStrip, axis: Axis | LogAxis) -> Iterable[str]:
    if chart.low is None and chart.high is None:
        return
    base = _HEIGHT - _BOTTOM
    left = axis.start if chart.low is None else axis.at(axis.clip(chart.low))
    right = axis.end if chart.high is None else axis.at(axis.clip(chart.high))
    yield (
        f'<rect class="window" x="{left:.1f}" y="{_TOP - 10:.1f}" width="{right - left:.1f}" '
        f'height="{base - _TOP + 10:.1f}"/>'
    )
    said = f"wanted: {window_text(chart.low, chart.high, chart.unit)}"
    half = width_of(said) / 2
    middle = min(max((left + right) / 2, axis.start + half), axis.end - half)
    yield text_at(middle, _TOP - 16.0, said, "wanted", "middle")
    for end in (chart.low, chart.high):
        if end is not None and axis.holds(end):
            x = axis.at(end)
            yield f'<path class="edge" d="M{x:.1f} {_TOP - 10:.1f}V{base:.1f}"/>'


def _typical(chart: OutcomeStrip, axis: Axis | LogAxis) -> Iterable[str]:
    """Mark the batch exactly as written, above the bars."""
    if chart.typical is None or not math.isfinite(chart.typical):
        return
    x = axis.at(axis.clip(chart.typical))
    anchor = "end" if x > (axis.start + axis.end) / 2 else "start"
    yield f'<path class="typical" d="M{x:.1f} 20V{_HEIGHT - _BOTTOM:.1f}"/>'
    yield text_at(x + (6.0 if anchor == "start" else -6.0), 15.0, "as written", "note", anchor)


def _scale(chart: OutcomeStrip, axis: Axis | LogAxis) -> Iterable[str]:
    base = _HEIGHT - _BOTTOM
    yield f'<path class="axis" d="M{axis.start:.1f} {base:.1f}H{axis.end:.1f}"/>'
    for value in axis.ticks(5):
        x = axis.at(value)
        yield f'<path class="axis" d="M{x:.1f} {base:.1f}v6"/>'
        yield text_at(x, base + 23.0, number_text(value), "tick", "middle")
    label = f"{chart.label}, {chart.unit}" if chart.unit else chart.label
    yield text_at((axis.start + axis.end) / 2, base + 48.0, label, "label", "middle")


def _finite(values: Sequence[float]) -> list[float]:
    return sorted(value for value in values if math.isfinite(value))


def _counted(chart: OutcomeStrip, values: list[float]) -> tuple[int, int, int]:
    """Return how many of sorted values lie below, inside and above the window."""
    below = 0 if chart.low is None else bisect_left(values, chart.low)
    above = 0 if chart.high is None else len(values) - bisect_right(values, chart.high)
    return below, len(values) - below - above, above


def _quantile(values: list[float], share: float) -> float:
    return values[min(int(share * len(values)), len(values) - 1)]


def _percent(count: int, of: int) -> str:
    return f"{100.0 * count / of:.0f} %"


def _with_unit(value: float, unit: str) -> str:
    return f"{number_text(value)} {unit}".strip()
