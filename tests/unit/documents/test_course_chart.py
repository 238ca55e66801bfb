"""Temperature over time as a drawing, with the same as words and as a table."""

import re
import xml.etree.ElementTree as ET
from dataclasses import replace

import pytest
from builders_process import course

from setwell.documents.course_chart import (
    CourseChart,
    CourseLine,
    CourseMark,
    CourseMoment,
    course_chart_svg,
    course_chart_table,
    course_line,
    description,
)
from setwell.errors import InputError


def chart_make(**changes):
    fields = {
        "title": "In the mold",
        "lines": (course_line(course("core", 120, 60, 4)), course_line(course("rim", 120, 40, 4))),
        "marks": (CourseMark(21.0, "21 °C"), CourseMark(5.0, "5 °C")),
        "moments": (CourseMoment(48.0, "sets"),),
        **changes,
    }
    return CourseChart(**fields)


def texts(svg, kind):
    root = ET.fromstring(svg)  # noqa: S314 - our own drawing
    return [one.text for one in root.iter() if one.get("class") == kind]


def test_a_course_becomes_a_line_in_minutes():
    line = course_line(course("core", 120, 60, 4))
    assert (line.minutes[0], line.minutes[-1]) == (0.0, 120.0)
    assert (line.celsius[0], line.celsius[-1]) == (60.0, 4.0)
    assert (line.low[0], line.high[0]) == (58.0, 62.0)


def test_a_course_without_width_has_no_range():
    assert course_line(course("core", 120, 60, 4, spread=0.0)).low == ()


def test_the_left_axis_is_celsius_and_the_right_one_fahrenheit():
    svg = course_chart_svg(chart_make())
    labels = texts(svg, "label")
    assert {"°C", "°F", "Time, min"} <= set(labels)
    root = ET.fromstring(svg)  # noqa: S314 - our own drawing
    ticks = [
        (one.text, float(one.get("x")), float(one.get("y"))) for one in root.iter()
        if one.get("class") == "tick"
    ]  # fmt: skip
    left = {text: y for text, x, y in ticks if x < 50}
    right = {text: y for text, x, y in ticks if x > 470}
    # 10 °C is 50 °F and 60 °C is 140 °F, so both lie at one height on both sides.
    per_c = (left["20"] - left["60"]) / 40
    per_f = (right["50"] - right["125"]) / 75
    assert per_c / per_f == pytest.approx(1.8, rel=1e-2)
    assert right["50"] == pytest.approx(left["10"], abs=0.2)


def test_a_long_course_counts_hours():
    lines = (course_line(course("core", 360, 60, 4)),)
    assert "Time, h" in texts(course_chart_svg(chart_make(lines=lines)), "label")


def test_measured_courses_are_dots_and_computed_ones_lines():
    probe = course_line(replace(course("probe", 60, 60, 30), is_measured=True))
    svg = course_chart_svg(chart_make(lines=(course_line(course("core", 60, 60, 30)), probe)))
    assert svg.count('<circle class="dot dot-2"') == len(probe.minutes) + 1
    assert 'class="line line-2"' not in svg
    assert 'class="line line-1"' in svg


def test_marks_and_moments_are_named():
    svg = course_chart_svg(chart_make())
    assert {"21 °C", "5 °C", "sets"} <= set(texts(svg, "note"))


def test_names_are_escaped():
    svg = course_chart_svg(chart_make(moments=(CourseMoment(10.0, "<b>"),)))
    assert "<b>" not in svg
    assert "&lt;b&gt;" in svg


def test_the_words_say_what_the_lines_do():
    said = description(chart_make())
    assert "core: 60 °C (140 °F) at 0 s, 4 °C (39 °F) at 2 h." in said
    assert "sets: 48 min." in said


def test_the_table_has_even_times_and_the_moments():
    table = course_chart_table(chart_make())
    assert table.header == ("Time", "core", "rim")
    assert len(table.rows) == 10
    assert ("48 min: sets", "38 °C (100 °F), 36 to 40 °C", "26 °C (78 °F), 24 to 28 °C") in (
        table.rows
    )


def test_a_time_beyond_a_line_is_not_known():
    lines = (course_line(course("core", 120, 60, 4)), course_line(course("rim", 60, 40, 4)))
    assert course_chart_table(chart_make(lines=lines)).rows[-1][2] == "not known"


def test_a_line_with_nothing_known_in_between_has_a_table_and_words():
    broken = CourseLine("core", (0.0, 10.0, 20.0, 30.0), (float("nan"), 60.0, float("nan"), 20.0))
    chart = chart_make(lines=(broken, course_line(course("rim", 30, 60, 4))), moments=())
    cells = [row[1] for row in course_chart_table(chart).rows]
    assert cells[0] == "not known"
    assert cells[-1] == "20 °C (68 °F)"
    assert "core: 60 °C (140 °F) at 10 min, 20 °C (68 °F) at 30 min." in description(chart)


def test_a_chart_without_a_point_is_refused():
    with pytest.raises(InputError, match="no temperature to draw"):
        CourseChart("Empty", (CourseLine("core", (), ()),))


def test_the_drawing_has_words_for_who_cannot_see_it():
    svg = course_chart_svg(chart_make())
    key = re.search(r'aria-describedby="([^"]+)"', svg)[1]
    assert f'<desc id="{key}">' in svg
    assert 'role="img"' in svg
