"""Where most batches come out: nested bars along one quantity, with the window to land in.

Colors, widths and text sizes come from css/strangers.css through class names; what lies outside
of the window is drawn hollow, so nothing depends on color alone.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

from setwell.documents.amounts import number_text
from setwell.documents.chart_axis import Axis
from setwell.documents.drawing import ChartTable, drawing_key, opened, text_at, width_of
from setwell.documents.log_axis import LogAxis
from setwell.errors import InputError

_WIDTH, _HEIGHT = 480.0, 212.0
_LEFT, _RIGHT, _TOP, _BOTTOM = 14.0, 14.0, 36.0, 58.0
# From this ratio of the ends on, equal steps are equal factors.
_WIDE = 12.0


@dataclass(frozen=True, slots=True)
class OutcomeStrip:
    """Outcomes of many batches; `quantiles` are (share of batches, value), rising.

    A side of the window that is open is None.
    """

    title: str
    label: str
    unit: str
    quantiles: tuple[tuple[float, float], ...]
    low: float | None = None
    high: float | None = None
    typical: float | None = None

    def __post_init__(self) -> None:
        """Check the window."""
        if self.low is not None and self.high is not None and self.low >= self.high:
            raise InputError(f"The window of {self.label} has no room between its ends.")

    @property
    def known(self) -> tuple[tuple[float, float], ...]:
        """The quantiles that are numbers."""
        return tuple((share, value) for share, value in self.quantiles if math.isfinite(value))


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
    if not chart.known:
        return f"No batch has a number for {chart.label}."
    said = []
    for (low_share, low), (high_share, high) in _pairs(chart):
        if low_share == high_share:
            said.append(f"half of the batches below {_with_unit(low, chart.unit)}")
        else:
            share = round(100.0 * (high_share - low_share))
            span = f"{number_text(low)} to {_with_unit(high, chart.unit)}"
            said.append(f"{share} of 100 batches {span}")
    wanted = ""
    if chart.low is not None or chart.high is not None:
        wanted = f" Wanted: {window_text(chart.low, chart.high, chart.unit)}."
    return f"{chart.label}: {'; '.join(said)}.{wanted}"


def outcome_table(chart: OutcomeStrip) -> ChartTable:
    """Return the same numbers as a table: what so many of 100 batches stay under."""
    rows = [
        (f"{100 * share:.0f} of 100", f"{_with_unit(value, chart.unit)} or less")
        for share, value in chart.known
    ]
    if rows and (chart.low is not None or chart.high is not None):
        rows.append(("wanted", window_text(chart.low, chart.high, chart.unit)))
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
    if not chart.known:
        return None
    ends = (chart.low, chart.high, chart.typical)
    known = [value for _, value in chart.known]
    known += [one for one in ends if one is not None and math.isfinite(one)]
    low, high = min(known), max(known)
    if low > 0.0 and high / low > _WIDE:
        return LogAxis(low / 1.15, high * 1.15, _LEFT, _WIDTH - _RIGHT)
    margin = 0.06 * (high - low) or 0.1 * abs(high) or 0.5
    return Axis(low - margin, high + margin, _LEFT, _WIDTH - _RIGHT)


def _pairs(chart: OutcomeStrip) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """Return the quantiles as nested ranges, widest first; one in the middle stands for itself."""
    known = chart.known
    half = (len(known) + 1) // 2
    return [(known[place], known[-1 - place]) for place in range(half)]


def _bars(chart: OutcomeStrip, axis: Axis | LogAxis) -> Iterable[str]:
    """Draw each range taller than the one around it, split where the window ends."""
    pairs = _pairs(chart)
    middle, room = (_TOP + _HEIGHT - _BOTTOM - 24.0) / 2, _HEIGHT - _BOTTOM - _TOP - 34.0
    for place, ((low_share, low), (high_share, high)) in enumerate(pairs, start=1):
        tall = room * place / len(pairs)
        top = middle - tall / 2
        if low_share == high_share:
            x = axis.at(low)
            yield f'<path class="half" d="M{x:.1f} {top:.1f}v{tall:.1f}"/>'
            continue
        cuts = (one for one in (chart.low, chart.high) if one is not None and low < one < high)
        for start, end in pairwise((low, *cuts, high)):
            kind = "inside" if _is_inside(chart, (start + end) / 2) else "outside"
            x0, x1 = axis.at(start), axis.at(end)
            yield (
                f'<rect class="{kind}" x="{x0:.1f}" y="{top:.1f}" '
                f'width="{max(x1 - x0, 1.0):.1f}" height="{tall:.1f}"/>'
            )


def _is_inside(chart: OutcomeStrip, value: float) -> bool:
    return not (
        (chart.low is not None and value < chart.low)
        or (chart.high is not None and value > chart.high)
    )


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
    """Mark the batch exactly as written; its name stands below the bars."""
    if chart.typical is None or not math.isfinite(chart.typical):
        return
    x = axis.at(axis.clip(chart.typical))
    anchor = "end" if x > (axis.start + axis.end) / 2 else "start"
    yield f'<path class="typical" d="M{x:.1f} {_TOP - 10:.1f}V{_HEIGHT - _BOTTOM:.1f}"/>'
    y = _HEIGHT - _BOTTOM - 7.0
    yield text_at(x + (6.0 if anchor == "start" else -6.0), y, "as written", "note", anchor)


def _scale(chart: OutcomeStrip, axis: Axis | LogAxis) -> Iterable[str]:
    base = _HEIGHT - _BOTTOM
    yield f'<path class="axis" d="M{axis.start:.1f} {base:.1f}H{axis.end:.1f}"/>'
    for value in axis.ticks(5):
        x = axis.at(value)
        yield f'<path class="axis" d="M{x:.1f} {base:.1f}v6"/>'
        yield text_at(x, base + 23.0, number_text(value), "tick", "middle")
    label = f"{chart.label}, {chart.unit}" if chart.unit not in {"", "1"} else chart.label
    yield text_at((axis.start + axis.end) / 2, base + 48.0, label, "label", "middle")


def _with_unit(value: float, unit: str) -> str:
    return f"{number_text(value)} {'' if unit == '1' else unit}".strip()
