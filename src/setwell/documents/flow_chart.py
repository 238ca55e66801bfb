"""Flow curves: how thick a liquid is, from resting to stirred, beside liquids everybody knows."""

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from itertools import pairwise

from setwell.documents.amounts import number_text
from setwell.documents.chart_axis import Axis
from setwell.documents.drawing import (
    LEADING,
    ChartTable,
    LegendItem,
    drawing_key,
    legend,
    moved_apart,
    opened,
    scale,
    text_at,
    width_of,
    wrapped,
)
from setwell.documents.line_chart import DASHES, Series, plotted
from setwell.documents.log_axis import LogAxis, log_limits
from setwell.errors import InputError

_WIDTH, _TOP, _PLOT, _FOOT = 480.0, 52.0, 290.0, 66.0
# The chart shows at least this much: 1/s, and mPa·s around what is drawn.
_RATES, _LEAST_SPAN = (0.1, 1000.0), 100.0
_LETTERS = 13
# Rates a table gives, one or three in each decade.
_TABLE_RATES = (0.01, 0.1, 1.0, 3.0, 10.0, 30.0, 100.0, 300.0, 1000.0, 10000.0)
_LEAST_VISCOSITY = 1e-3


@dataclass(frozen=True, slots=True)
class FlowCurve:
    """Viscosity [mPa·s] at rising shear rates [1/s]; low and high are its range, where known."""

    name: str
    rates: tuple[float, ...]
    viscosity: tuple[float, ...]
    low: tuple[float, ...] = ()
    high: tuple[float, ...] = ()

    def __post_init__(self) -> None:
        """Check that all numbers can stand on axes of ratios."""
        for part in (self.viscosity, self.low, self.high):
            if len(part) != len(self.rates) and (part or part is self.viscosity):
                raise InputError(
                    f"The curve “{self.name}” has {len(self.rates)} shear rates and {len(part)} "
                    "viscosities.",
                    hint="Give one for each shear rate.",
                )
        if bool(self.low) != bool(self.high):
            raise InputError(
                f"The curve “{self.name}” has only one side of its range.",
                hint="Give both low and high, or neither.",
            )
        bad = [v for v in (*self.rates, *self.viscosity, *self.low, *self.high) if v <= 0.0]
        if bad:
            raise InputError(
                f"The curve “{self.name}” holds {bad[0]:g}.",
                hint="Give shear rates and viscosities above zero.",
            )
        if list(self.rates) != sorted(set(self.rates)):
            raise InputError(
                f"The shear rates of “{self.name}” do not rise.",
                hint="Give them from slow to fast, each once.",
            )

    def at(self, rate: float) -> tuple[float, float, float] | None:
        """Return viscosity, low and high at a rate; None outside the curve."""
        values = self._between(self.viscosity, rate)
        if values is None:
            return None
        low, high = (self._between(side or self.viscosity, rate) for side in (self.low, self.high))
        return values, low or values, high or values

    def _between(self, values: tuple[float, ...], rate: float) -> float | None:
        # Straight between neighbors on axes of ratios.
        points = list(zip(self.rates, values, strict=True))
        for (x0, y0), (x1, y1) in pairwise(points):
            if x0 <= rate <= x1 and math.isfinite(y0) and math.isfinite(y1):
                return y0 * math.exp(math.log(y1 / y0) * math.log(rate / x0) / math.log(x1 / x0))
        return None


@dataclass(frozen=True, slots=True)
class Landmark:
    """A known liquid and its viscosity at the marked rate [mPa·s]."""

    name: str
    viscosity: float


@dataclass(frozen=True, slots=True)
class FlowChart:
    """What the chart shows; `mark_rate` is the shear rate at which thickness is compared [1/s]."""

    title: str
    curves: tuple[FlowCurve, ...]
    landmarks: tuple[Landmark, ...] = ()
    mark_rate: float = 50.0
    x_label: str = "Shear rate, 1/s"
    y_label: str = "Viscosity, mPa·s"


def flow_chart_svg(chart: FlowChart) -> str:
    """Return the chart as one `<svg>` element; css/texture_chart.css gives colors and sizes."""
    x_axis, y_axis = _axes(chart)
    series = tuple(
        Series(c.name, c.rates, c.viscosity, style, c.low, c.high)
        for c, style in zip(chart.curves, _styles(len(chart.curves)), strict=True)
    )
    samples = [LegendItem(one.name, _sample(one.style, n)) for n, one in enumerate(series, start=1)]
    names, height = legend(samples, 10.0, _WIDTH, y_axis.start + _FOOT)
    parts = [
        opened(
            "texture-chart flow-chart", chart.title, description(chart),
            key=drawing_key(chart.title), width=_WIDTH, height=y_axis.start + _FOOT + height,
        ),
        *scale(x_axis, y_axis, chart.x_label, chart.y_label),
        *_landmarks(chart, x_axis, y_axis),
        *_compared(chart, x_axis, y_axis),
        *plotted(series, x_axis, y_axis),
        *_crossings(chart, x_axis, y_axis),
        *names,
        "</svg>",
    ]  # fmt: skip
    return "".join(parts)


def flow_chart_table(chart: FlowChart) -> ChartTable:
    """Return the viscosity of each curve at round rates and at the marked one."""
    rates = sorted({*_TABLE_RATES, chart.mark_rate})
    rows = []
    for rate in rates:
        found = [curve.at(rate) for curve in chart.curves]
        if any(found):
            rows.append((f"{number_text(rate)} 1/s", *(_range(one) for one in found)))
    header = ("Shear rate", *(f"{curve.name}, mPa·s" for curve in chart.curves))
    return ChartTable(header, tuple(rows))


def landmark_table(chart: FlowChart) -> ChartTable:
    """Return the known liquids, thickest first."""
    header = ("Everyday liquid", "mPa·s, as reported")
    rows = ((m.name, number_text(m.viscosity, digits=2)) for m in _sorted(chart.landmarks))
    return ChartTable(header, tuple(rows))


def description(chart: FlowChart) -> str:
    """Return in words how thick each curve is at its ends and at the marked rate."""
    said = [f"{chart.y_label} against {chart.x_label}, both in equal ratios."]
    for curve in chart.curves:
        rates = (*curve.rates[:1], chart.mark_rate, *curve.rates[-1:])
        found = [(rate, curve.at(rate)) for rate in dict.fromkeys(rates)]
        words = [f"{_range(one)} at {number_text(rate)}" for rate, one in found if one]
        said.append(f"{curve.name}: {', '.join(words)}.")
    said += [
        f"{mark.name}: {number_text(mark.viscosity, digits=2)}."
        for mark in _sorted(chart.landmarks)
    ]
    return " ".join(said)


def _range(found: tuple[float, float, float] | None) -> str:
    if found is None:
        return "–"
    value, low, high = (number_text(one, digits=2) for one in found)
    return value if low == high else f"{value} ({low}–{high})"


def _sorted(landmarks: Iterable[Landmark]) -> list[Landmark]:
    return sorted(landmarks, key=lambda mark: -mark.viscosity)


def _styles(count: int) -> list[str]:
    styles = list(DASHES)
    return [styles[number % len(styles)] for number in range(count)]


def _axes(chart: FlowChart) -> tuple[LogAxis, LogAxis]:
    rates = [rate for curve in chart.curves for rate in curve.rates]
    values = [v for c in chart.curves for part in (c.viscosity, c.low, c.high) for v in part]
    values += [mark.viscosity for mark in chart.landmarks]
    kept = [v for v in values if math.isfinite(v)] or [1.0, _LEAST_SPAN]
    middle = math.sqrt(max(min(kept), _LEAST_VISCOSITY) * max(kept))
    low, high = min(*kept, middle / 10.0), max(*kept, middle * 10.0)
    named = max((len(row) for m in chart.landmarks for row in wrapped(m.name, _LETTERS)), default=0)
    right = _WIDTH - (width_of("x" * named) + 36.0 if named else 24.0)
    y_low, y_high = _decades(low, high)
    left = 14.0 + max(width_of(number_text(end)) for end in (y_low, y_high))
    return (
        LogAxis(*log_limits(rates, *_RATES, margin=1.0), left, right),
        LogAxis(y_low, y_high, _TOP + _PLOT, _TOP),
    )


def _decades(low: float, high: float) -> tuple[float, float]:
    # A level on the axis itself could not be told from it.
    kept = max(0.9 * low, _LEAST_VISCOSITY)
    return 10.0 ** math.floor(math.log10(kept) + 1e-9), 10.0 ** math.ceil(math.log10(high) - 1e-9)


def _sample(style: str, number: int) -> Callable[[float, float], str]:
    dashed = f' stroke-dasharray="{DASHES[style]}" stroke-linecap="round"' if DASHES[style] else ""
    return lambda x, y: (
        f'<path class="line line-{number}" fill="none"{dashed} d="M{x - 12:.1f} {y:.1f}h26"/>'
    )


def _landmarks(chart: FlowChart, x_axis: Axis, y_axis: Axis) -> Iterable[str]:
    """Draw known liquids as levels, their names in the margin, moved apart where they are close."""
    marks = [mark for mark in _sorted(chart.landmarks) if y_axis.holds(mark.viscosity)]
    rows = [wrapped(mark.name, _LETTERS) for mark in marks]
    heights = [len(one) * LEADING - 2.0 for one in rows]
    levels = [y_axis.at(mark.viscosity) for mark in marks]
    wanted = [y - height / 2 for y, height in zip(levels, heights, strict=True)]
    tops = moved_apart(wanted, heights, 4.0, y_axis.start + _FOOT - 4.0, 3.0)
    for y, top, lines, height in zip(levels, tops, rows, heights, strict=True):
        yield (
            f'<path class="landmark" stroke-dasharray="2 4" '
            f'd="M{x_axis.start:.1f} {y:.1f}H{x_axis.end:.1f}"/>'
            f'<path class="leader" d="M{x_axis.end:.1f} {y:.1f}l16 {top + height / 2 - y:.1f}"/>'
        )
        for number, line in enumerate(lines):
            yield text_at(x_axis.end + 21.0, top + 14.0 + number * LEADING, line, "note")


def _compared(chart: FlowChart, x_axis: Axis, y_axis: Axis) -> Iterable[str]:
    if x_axis.holds(chart.mark_rate):
        x = x_axis.at(chart.mark_rate)
        yield f'<path class="mark" d="M{x:.1f} {y_axis.end - 6:.1f}V{y_axis.start:.1f}"/>'
        said = f"{number_text(chart.mark_rate)} 1/s"
        yield text_at(x, y_axis.end - 11.0, said, "note", "middle")


def _crossings(chart: FlowChart, x_axis: Axis, y_axis: Axis) -> Iterable[str]:
    for number, curve in enumerate(chart.curves, start=1):
        found = curve.at(chart.mark_rate)
        if found is not None and y_axis.holds(found[0]):
            x, y = x_axis.at(chart.mark_rate), y_axis.at(found[0])
            yield f'<circle class="crossing crossing-{number}" cx="{x:.1f}" cy="{y:.1f}" r="6"/>'
