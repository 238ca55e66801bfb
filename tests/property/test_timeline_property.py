"""What holds for every timeline and every schedule, whatever the steps."""

from itertools import pairwise

import pytest
from builders_process import agar_formula, cooling_made, minutes, pot_made
from hypothesis import given, settings
from hypothesis import strategies as st

from setwell.documents.timeline_chart import TimelineChart, timeline_chart_svg, timeline_table
from setwell.engine.assess import bench_build
from setwell.engine.timeline.build import timeline
from setwell.engine.timeline.schedule import clock_print, schedule

STEPS = st.lists(
    st.sampled_from(
        [
            "Mix the agar with the sugar.", "Heat to 90 °C, stirring.", "Boil for 3 min.",
            "Hold at 85 °C for 10 min.", "Cool to 60 °C.", "Add the lemon juice.",
            "Warm the juice to 40 °C.", "Pour into the cups.", "Stir in the salt, pour into cups.",
            "Chill at 4 °C for 2 h.", "Chill until set.", "Rest for 20 min.", "Freeze.",
            "Unmold.", "Serve.", "Blend.", "Reheat to 74 °C.", "Sing a song.",
        ]
    ),
    max_size=9,
).map("\n".join)  # fmt: skip
POTS = st.none() | st.floats(30.0, 120.0).map(lambda end: pot_made(end_c=end))
COLD = st.none() | st.floats(1.0, 900.0).map(lambda value: cooling_made(serve=minutes(value)))
CLOCK = st.floats(0.0, 1_439.0)


@st.composite
def timelines(draw):
    bench = bench_build(agar_formula(draw(STEPS)))
    return timeline(bench, None, draw(POTS), draw(COLD))


@settings(max_examples=60)
@given(line=timelines())
def test_stages_follow_each_other_and_work_fits_into_them(line) -> None:
    for before, after in pairwise(line.stages):
        assert after.start.value == pytest.approx(before.end_min)
        assert after.start.low <= after.start.value <= after.start.high
    for stage in line.stages:
        span = stage.minutes
        assert 0 <= span.low <= span.value + 1e-9 <= span.high + 2e-9
        assert 0 <= stage.hands_on.value <= span.value + 1e-9
        assert stage.waiting_min >= 0
    assert line.ready.low <= line.ready.value + 1e-9 <= line.ready.high + 2e-9
    assert all(point.stage == 0 or line.stage(point.stage) for point in line.points)


@settings(max_examples=60)
@given(line=timelines(), serve=CLOCK, earliest=st.none() | CLOCK)
def test_a_possible_schedule_has_a_slow_kitchen_ready_in_time(line, serve, earliest) -> None:
    plan = schedule(line, serve_min=serve, earliest_min=earliest)
    ready = plan.start_min + line.ready.high
    if plan.is_possible:
        assert serve - 5.0 - 1e-6 <= ready <= serve + 1e-6
        assert earliest is None or plan.start_min >= earliest
    else:
        assert plan.start_min == earliest
        assert ready - serve == pytest.approx(plan.short_min)
        assert plan.short_min > -5.0
        assert plan.action
    assert all(row.earliest <= row.begins + 1e-9 <= row.latest + 2e-9 for row in plan.rows)


@settings(max_examples=30)
@given(line=timelines(), serve=st.none() | CLOCK)
def test_every_timeline_can_be_drawn_and_told(line, serve) -> None:
    plan = None if serve is None else schedule(line, serve_min=serve)
    chart = TimelineChart("Work", line, plan)
    assert timeline_chart_svg(chart).endswith("</svg>")
    assert len(timeline_table(chart).rows) == len(line.stages)


@given(whole=st.integers(-10_000, 10_000))
def test_a_clock_tells_the_same_time_every_day(whole) -> None:
    assert clock_print(whole).split(" (")[0] == clock_print(whole % 1_440).split(" (")[0]
