"""Steps as bars over time."""

import xml.etree.ElementTree as ET
from itertools import pairwise

import pytest
from builders_process import STEPS, agar_formula

from setwell.documents.timeline_chart import (
    TimelineChart,
    description,
    timeline_chart_svg,
    timeline_table,
)
from setwell.engine.assess import bench_build
from setwell.engine.timeline.build import timeline
from setwell.engine.timeline.schedule import schedule


def chart_make(steps=STEPS, serve=None):
    line = timeline(bench_build(agar_formula(steps)))
    return TimelineChart("Work", line, schedule(line, serve_min=serve) if serve else None)


def rects(chart, kind):
    root = ET.fromstring(timeline_chart_svg(chart))  # noqa: S314 - our own drawing
    found = [one for one in root.iter() if one.get("class") == kind and one.get("height") == "20"]
    return [(float(one.get("x")), float(one.get("width"))) for one in found]


def test_every_stage_has_a_bar_that_begins_where_the_one_before_ends():
    chart = chart_make("Heat to 90 °C, stirring.\nHold for 10 min.\nRest for 20 min.")
    bars = rects(chart, "wait")
    assert len(bars) == 4
    for (x, width), (after, _) in pairwise(bars):
        assert after == pytest.approx(x + width, abs=0.2)
    assert bars[3][1] / bars[2][1] == pytest.approx(2.0, rel=0.02)


def test_work_is_solid_within_the_bar():
    chart = chart_make("Rest for 20 min.\nHold at 90 °C for 20 min, stirring.")
    work, bars = rects(chart, "work"), rects(chart, "wait")
    stage = chart.timeline.stage(1)
    assert work[1][1] / bars[1][1] == pytest.approx(stage.hands_on.value / 20.0, rel=0.05)


def test_a_very_long_wait_is_drawn_shorter_with_a_break():
    chart = chart_make("Heat to 90 °C.\nPour into cups.\nChill for 24 h.")
    svg = timeline_chart_svg(chart)
    assert 'class="break"' in svg
    assert "24 h" in svg
    bars = rects(chart, "wait")
    assert bars[3][1] < 0.65 * sum(width for _, width in bars)
    assert 'class="break"' not in timeline_chart_svg(chart_make("Rest for 20 min.\nRest 20 min."))


def test_points_that_decide_are_marked():
    svg = timeline_chart_svg(chart_make())
    decides = {point.stage for point in chart_make().timeline.points}
    # One more stands in the legend.
    assert svg.count('class="critical"') == len(decides) + 1


def test_with_a_serving_time_the_axis_is_a_clock():
    chart = chart_make(serve=18 * 60)
    svg = timeline_chart_svg(chart)
    assert "On the clock" in svg
    start = int(chart.schedule.start_min)
    assert f">{start // 60:02d}:{start % 60:02d}<" in svg


def test_the_table_says_where_each_time_comes_from():
    table = timeline_table(chart_make())
    assert table.header == ("Step", "Begins", "Takes", "Batch", "Hands on", "Time is")
    hold = next(row for row in table.rows if row[0].startswith("3."))
    assert hold[2:] == ("5 min", "90 °C (194 °F)", "none", "stated")


def test_the_words_name_steps_and_waits():
    said = description(chart_make("Heat to 90 °C, stirring.\nRest for 30 min."))
    assert "2. Rest for 30 min.: begins after" in said
    assert "takes 30 min, 30 min of it waiting." in said or "29.5 min of it waiting" in said


def test_names_are_escaped_and_long_ones_cut():
    svg = timeline_chart_svg(chart_make("Stir <b>well</b> with a large whisk until all is smooth."))
    assert "<b>" not in svg
    assert "…" in svg


def test_no_steps_still_draws():
    assert "</svg>" in timeline_chart_svg(chart_make(" "))
