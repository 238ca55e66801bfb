"""A timeline as plain SVG: steps as bars over time, work solid and waiting light."""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from setwell.documents.amounts import temperature_text
from setwell.documents.chart_axis import nice_step
from setwell.documents.drawing import (
    ChartTable,
    LegendItem,
    drawing_key,
    legend,
    opened,
    text_at,
    wrapped,
)
from setwell.engine.timeline.results import Schedule, Stage, Timeline
from setwell.engine.timeline.schedule import clock_print
from setwell.provenance import Estimate
from setwell.units import duration_print, time_print, time_range_print

_WIDTH, _LEFT, _RIGHT = 620.0, 200.0, 604.0
_LANE, _BAR, _FOOT = 48.0, 20.0, 46.0
_NAME_LETTERS = 19
# A step longer than so many times all others is drawn shorter, with a break in its bar.
_LONGEST = 1.5
# A range narrower than this share of its middle is not told.
_NARROW = 0.05
# Numbers on the axis stand at least this far apart [drawing units].
_APART = 46.0
_HOURS_FROM_MIN = 180.0
# A bar shorter than this cannot be seen [drawing units].
_LEAST = 3.0


@dataclass(frozen=True, slots=True)
class TimelineChart:
    """What the chart shows."""

    title: str
    timeline: Timeline
    schedule: Schedule | None = None


def timeline_chart_svg(chart: TimelineChart) -> str:
    """Return the chart as one `<svg>` element; css/process.css gives colors and sizes."""
    stages = chart.timeline.stages
    items, height = legend(_LEGEND, 6.0, _RIGHT, 0.0)
    top = height + 8.0
    bottom = top + _LANE * max(len(stages), 1)
    axis = _drawn_axis(stages)
    parts = [
        opened(
            "timeline-chart", chart.title, description(chart),
            key=drawing_key(chart.title), width=_WIDTH, height=bottom + _FOOT,
        ),
        *items,
        *_grid(axis, top, bottom, chart.schedule),
    ]  # fmt: skip
    decides = {point.stage for point in chart.timeline.points if point.stage}
    for row, stage in enumerate(stages):
        is_critical = stage.number in decides
        parts += _lane(stage, axis, top + row * _LANE, is_critical=is_critical)
    return "".join([*parts, "</svg>"])


def description(chart: TimelineChart) -> str:
    """Return in words when each stage begins and how long it takes."""
    said = []
    for stage in chart.timeline.stages:
        wait = stage.waiting_min
        free = f", {duration_print(wait)} of it waiting" if wait >= 1 else ""
        said.append(
            f"{_name(stage)}: begins after {duration_print(stage.start.value)}, takes "
            f"{duration_print(stage.minutes.value)}{free}."
        )
    return " ".join(said) or "No steps."


def timeline_table(chart: TimelineChart) -> ChartTable:
    """Return every stage with its times, temperature and work."""
    begins = {row.stage.number: row for row in chart.schedule.rows} if chart.schedule else {}
    rows = []
    for stage in chart.timeline.stages:
        row = begins.get(stage.number)
        start = clock_print(row.begins) if row else duration_print(stage.start.value)
        rows.append(
            (
                _name(stage),
                start,
                stage_takes(stage),
                _temperatures(stage),
                _work(stage),
                stage.basis.value,
            )
        )
    return ChartTable(("Step", "Begins", "Takes", "Batch", "Hands on", "Time is"), tuple(rows))


def _work(stage: Stage) -> str:
    minutes = round(stage.hands_on.value)
    return duration_print(minutes) if minutes else "none"


def stage_takes(stage: Stage) -> str:
    """Return how long a stage takes, with its range where it has one."""
    minutes = stage.minutes
    low, high = (minutes.value if end is None else end for end in (minutes.low, minutes.high))
    if high - low < _NARROW * max(minutes.value, 1.0):
        return duration_print(_rounded(minutes.value))
    return takes_print(minutes)


def takes_print(minutes: Estimate | None) -> str:
    """Return a time with its range, in steps a kitchen clock can tell.

    >>> takes_print(Estimate(48.2, "min", 35.2, 70.4, "m"))
    '48 min (35 min to 1 h 15 min)'
    """
    if minutes is None:
        return "not within the time shown"
    said, span = time_print(minutes.value), time_range_print(minutes.low, minutes.high)
    return said if span in {said, "open"} else f"{said} ({span})"


def _rounded(minutes: float) -> float:
    return float(round(minutes)) if minutes >= 3 else round(minutes * 2) / 2


def _temperatures(stage: Stage) -> str:
    if round(stage.begin_c) == round(stage.end_c):
        return temperature_text(stage.end_c)
    return f"{temperature_text(stage.begin_c)} to {temperature_text(stage.end_c)}"


def _name(stage: Stage) -> str:
    return f"{stage.number}. {stage.text}" if stage.number else stage.text


@dataclass(frozen=True, slots=True)
class _TimeAxis:
    """Where a time lies on paper: even within a step, broken within a very long one."""

    times: tuple[float, ...]
    places: tuple[float, ...]
    broken: frozenset[int]

    @property
    def high(self) -> float:
        return self.times[-1]

    def at(self, minutes: float) -> float:
        return float(np.interp(minutes, self.times, self.places))


def _drawn_axis(stages: tuple[Stage, ...]) -> _TimeAxis:
    total = sum(one.minutes.value for one in stages)
    drawn, broken = [], set()
    for stage in stages:
        length = stage.minutes.value
        most = _LONGEST * max(total - length, 5.0)
        if length > most:
            broken.add(stage.number)
        drawn.append(min(length, most))
    per_unit = (_RIGHT - _LEFT) / max(sum(drawn), 1e-9)
    times, places = [0.0], [_LEFT]
    for stage, length in zip(stages, drawn, strict=True):
        times.append(stage.end_min)
        places.append(places[-1] + length * per_unit)
    return _TimeAxis(tuple(times), tuple(places), frozenset(broken))


def _grid(axis: _TimeAxis, top: float, bottom: float, schedule: Schedule | None) -> Iterable[str]:
    in_hours = axis.high > _HOURS_FROM_MIN
    step = 60.0 if in_hours else nice_step(axis.high, 5)
    before = -_APART
    for n in range(int(axis.high / step + 1e-9) + 1):
        value = n * step
        x = axis.at(value)
        if x - before < _APART:
            continue
        before = x
        yield f'<path class="grid" d="M{x:.1f} {top:.1f}V{bottom:.1f}"/>'
        if schedule is not None:
            said = clock_print(schedule.start_min + value).split(" ")[0]
        else:
            said = f"{value / 60:g}" if in_hours else f"{value:g}"
        yield text_at(x, bottom + 18, said, "tick", "middle")
    label = "On the clock" if schedule is not None else "Hours" if in_hours else "Minutes"
    yield text_at((_LEFT + _RIGHT) / 2, bottom + 40, label, "label", "middle")


def _lane(stage: Stage, axis: _TimeAxis, top: float, *, is_critical: bool) -> list[str]:
    """Draw one step: its name, the wait light, the work solid in front of it."""
    start, length = axis.at(stage.start.value), stage.minutes.value
    wide = max(axis.at(stage.end_min) - start, _LEAST)
    work = min(wide, wide * stage.hands_on.value / length if length > 0 else wide)
    y = top + 4
    parts = [
        f'<rect class="wait" x="{start:.1f}" y="{y:.1f}" width="{wide:.1f}" height="{_BAR:g}"/>',
        f'<rect class="work" x="{start:.1f}" y="{y:.1f}" width="{max(work, _LEAST / 2):.1f}" '
        f'height="{_BAR:g}"/>',
    ]
    if is_critical:
        x, mid = start - 12, y + _BAR / 2
        parts.append(f'<path class="critical" d="M{x:.1f} {mid - 8:.1f}l8 8l-8 8l-8 -8Z"/>')
    if stage.number in axis.broken:
        x = start + wide * 0.7
        parts.append(f'<path class="break" d="M{x:.1f} {y - 3:.1f}l6 9l-6 8l6 9"/>')
    named = wrapped(_name(stage), _NAME_LETTERS)
    short = named[:2] if len(named) <= 2 else [named[0], f"{named[1]} …"]
    parts += [text_at(6, top + 16 + n * 18, row, "step") for n, row in enumerate(short)]
    told = f"{stage_takes(stage).split(' (')[0]}, {round(stage.end_c)} °C"
    is_late = start + 150 > _RIGHT
    parts.append(
        text_at(_RIGHT if is_late else start, y + _BAR + 16, told, "told",
                "end" if is_late else "start")
    )  # fmt: skip
    return parts


_LEGEND = (
    LegendItem(
        "work", lambda x, y: f'<rect class="work" x="{x - 10:.1f}" y="{y - 7:.1f}" '
        'width="20" height="14"/>',
    ),
    LegendItem(
        "waiting", lambda x, y: f'<rect class="wait" x="{x - 10:.1f}" y="{y - 7:.1f}" '
        'width="20" height="14"/>',
    ),
    LegendItem(
        "decides", lambda x, y: f'<path class="critical" d="M{x:.1f} {y - 8:.1f}l8 8l-8 8l-8 -8Z"/>'
    ),
)  # fmt: skip
