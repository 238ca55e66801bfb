"""The charts of a process, each with the same numbers as a table."""

from dataclasses import dataclass, replace

from setwell.documents.course_chart import (
    CourseChart,
    CourseMark,
    CourseMoment,
    course_chart_svg,
    course_chart_table,
    course_line,
)
from setwell.documents.drawing import ChartTable
from setwell.documents.timeline_chart import TimelineChart, timeline_chart_svg, timeline_table
from setwell.engine.heat.course import Course
from setwell.engine.heat.results import CoolingResult, Moment, PotResult
from setwell.engine.rules.bench import Bench
from setwell.engine.texture_words import texture_words
from setwell.engine.timeline.results import Schedule, Timeline

# More moments than this crowd a chart; the list beside it has all.
_MOMENTS_MOST = 4
# The list beside a chart has the whole label.
_SHORT = {
    "reads": "probe there", "coldest": "coldest part too", "held": "held", "boils": "boils",
    "set": "sets", "unmold": "unmold", "21": "21 °C", "5": "5 °C",
}  # fmt: skip
_RULE_C = (57.0, 21.0, 5.0)
# A cooling is drawn this much longer than its last moment.
_TAIL = 1.15


@dataclass(frozen=True, slots=True)
class ProcessChart:
    """A drawing with its heading, what it says, and the table beside it."""

    key: str
    title: str
    says: str
    svg: str
    table: ChartTable


def pot_charts(pot: PotResult, pot_label: str) -> tuple[ProcessChart, ...]:
    """Return the pot over time, and the coldest place stirred and not."""
    marks = _needed(pot)
    lines = tuple(course_line(one) for one in pot.courses)
    first = _drawn(
        "pot", "In the pot", pot.regime_text,
        CourseChart("In the pot", lines, marks, _shown(pot.moments)),
    )  # fmt: skip
    if pot.other is None:
        return (first,)
    pair = (
        course_line(pot.coldest, name=pot_label),
        course_line(pot.other.coldest, name=pot.other_label or "the other way"),
    )
    second = _drawn(
        "stirring", "Stirred or not: the coldest place",
        "The coldest place decides whether an agent dissolves and whether the batch is safe.",
        CourseChart("The coldest place", pair, marks),
    )  # fmt: skip
    return first, second


def cooling_chart(bench: Bench, cooling: CoolingResult) -> ProcessChart:
    """Return the molds over time with the marks of the food code and where it sets."""
    setting = texture_words(bench).first_set_c
    marks = [CourseMark(degrees, f"{degrees:g} °C") for degrees in _RULE_C]
    if setting is not None:
        marks.append(CourseMark(setting.value, f"sets at {setting.value:.0f} °C"))
    moments = _shown(
        tuple(one for one in cooling.moments if one.key in {"set", "21", "5", "unmold"})
    )
    last = max((one.minutes for one in moments), default=None)
    lines = tuple(course_line(_until(one, last)) for one in cooling.courses)
    return _drawn(
        "cooling", "In the mold", "The core is the slowest place: it decides.",
        CourseChart("In the mold", lines, tuple(marks), moments),
    )  # fmt: skip


def timeline_chart(timeline: Timeline, schedule: Schedule | None) -> ProcessChart:
    """Return the steps over time."""
    chart = TimelineChart("Steps over time", timeline, schedule)
    return ProcessChart(
        "timeline", "Steps over time",
        "Solid: hands on. Light: waiting. A diamond: a point that decides.",
        timeline_chart_svg(chart), timeline_table(chart),
    )  # fmt: skip


def _drawn(key: str, title: str, says: str, chart: CourseChart) -> ProcessChart:
    return ProcessChart(key, title, says, course_chart_svg(chart), course_chart_table(chart))


def _until(course: Course, minutes: float | None) -> Course:
    """Cut off the long tail in which nothing happens any more."""
    if minutes is None:
        return course
    kept = course.seconds <= minutes * 60.0 * _TAIL
    if kept.sum() < 3:
        return course
    return replace(
        course, seconds=course.seconds[kept], celsius=course.celsius[kept],
        low_c=course.low_c[kept], high_c=course.high_c[kept],
    )  # fmt: skip


def _needed(pot: PotResult) -> tuple[CourseMark, ...]:
    """Return the temperatures that the agents need, once each."""
    found: dict[float, list[str]] = {}
    for agent in pot.agents:
        found.setdefault(round(agent.needs_c), []).append(agent.name)
    return tuple(
        CourseMark(degrees, f"{', '.join(names)}: {degrees:.0f} °C")
        for degrees, names in sorted(found.items())
    )


def _shown(moments: tuple[Moment, ...]) -> tuple[CourseMoment, ...]:
    known = [one for one in moments if one.estimate is not None]
    return tuple(
        CourseMoment(one.estimate.value, _SHORT.get(one.key, one.label))
        for one in known
        if one.estimate is not None
    )[:_MOMENTS_MOST]
