"""Stages, points that decide, and the schedule."""

from dataclasses import replace

import numpy as np
import pytest
from builders_process import agar_formula, cooling_made, minutes, pot_made

from setwell.domain.equipment import MoldForm
from setwell.domain.process_plan import CoolPlan, ProcessPlan
from setwell.engine.assess import bench_build
from setwell.engine.timeline.build import timeline
from setwell.engine.timeline.results import Basis
from setwell.engine.timeline.schedule import clock_print, schedule
from setwell.engine.verdict import Verdict


def made(steps=None, **given):
    bench = bench_build(agar_formula() if steps is None else agar_formula(steps))
    return timeline(bench, **given)


def point(line, key):
    return next(one for one in line.points if one.key == key)


def test_stages_follow_the_steps_after_the_weighing():
    line = made()
    assert [one.number for one in line.stages] == [0, 1, 2, 3, 4, 5, 6, 7, 8]
    assert line.stages[0].kind == "weigh"
    for before, after in zip(line.stages, line.stages[1:], strict=False):
        assert after.start.value == pytest.approx(before.end_min)


def test_a_stated_time_is_stated_and_the_rest_is_assumed():
    line = made()
    hold, chill, mix = line.stage(3), line.stage(7), line.stage(1)
    assert (hold.basis, hold.minutes.value) == (Basis.STATED, 5.0)
    assert (chill.basis, chill.minutes.low, chill.minutes.value) == (Basis.STATED, 120.0, 120.0)
    # From 60 to 4 °C at 0.7 °C a minute, 2.5 times as slow.
    assert chill.minutes.high == pytest.approx(200.0)
    assert mix.basis is Basis.ASSUMED
    assert mix.minutes.low < mix.minutes.value < mix.minutes.high


def test_warming_is_read_from_the_core_of_the_pot():
    # 76 °C in 38 min is 2 °C a minute: 90 °C less half a degree comes after 34.75 min.
    heat = made(pot=pot_made()).stage(2)
    assert heat.basis is Basis.COMPUTED
    assert heat.minutes.value == pytest.approx(34.75)
    assert heat.minutes.low == pytest.approx(33.75)
    assert heat.minutes.high == pytest.approx(35.75)


def test_a_pot_that_does_not_get_there_says_so():
    heat = made(pot=pot_made(end_c=80.0)).stage(2)
    assert heat.basis is Basis.ASSUMED
    assert "does not get there" in heat.note


def test_a_pot_whose_slow_end_never_gets_there_counts_as_a_slow_kitchen():
    heat = made(pot=pot_made(end_c=91.0)).stage(2)
    assert heat.minutes.high == pytest.approx(2.5 * heat.minutes.value)


def test_the_cold_lasts_as_stated_when_that_is_enough():
    line = made(cooling=cooling_made(serve=minutes(90, 70, 110)))
    assert line.stage(7).minutes.value == 120.0
    assert line.stage(7).basis is Basis.STATED


def test_the_cold_lasts_longer_when_the_core_is_not_ready():
    chill = made(cooling=cooling_made(serve=minutes(150, 120, 200))).stage(7)
    assert (chill.minutes.low, chill.minutes.value, chill.minutes.high) == (120, 150, 200)
    assert "Longer than the step says" in chill.note


def test_a_slow_cold_place_alone_lengthens_the_slow_end():
    chill = made(cooling=cooling_made(serve=minutes(100, 80, 150))).stage(7)
    assert (chill.minutes.value, chill.minutes.high) == (120, 150)
    assert chill.note == "A slow cold place needs longer than the step says."


def test_a_chill_without_a_time_takes_the_computed_one():
    steps = "Heat to 95 °C.\nPour into the cups.\nChill until set."
    chill = made(steps, cooling=cooling_made()).stage(3)
    assert chill.basis is Basis.COMPUTED
    assert (chill.minutes.low, chill.minutes.value, chill.minutes.high) == (35, 48, 70)


def test_a_rest_before_the_fridge_counts_as_time_in_the_mold():
    steps = "Heat to 95 °C.\nPour into the cups.\nRest for 20 min.\nChill until set."
    chill = made(steps, cooling=cooling_made()).stage(4)
    assert (chill.minutes.low, chill.minutes.value, chill.minutes.high) == (15, 28, 50)


def test_molds_take_time_to_fill():
    bench = bench_build(agar_formula(molds=None))
    few = timeline(bench)
    plan = ProcessPlan(cooling=CoolPlan(mold=MoldForm(volume_ml=8), count=96))
    many = timeline(bench, plan)
    assert few.stage(6).minutes.value == pytest.approx(2.25)
    assert many.stage(6).minutes.value == pytest.approx(26.0)
    assert many.hands_on.value - few.hands_on.value == pytest.approx(23.75)


def test_a_step_that_stirs_in_and_pours_fills_the_molds():
    line = made("Heat to 95 °C.\nStir in the salt, pour into the frame at 75 °C.\nChill for 3 h.")
    assert point(line, "pour").stage == 2


def test_hands_are_free_while_it_chills_but_not_while_it_is_stirred():
    line = made("Heat to 90 °C, stirring.\nPour into cups.\nChill for 3 h.")
    heat, chill = line.stage(1), line.stage(3)
    assert heat.waiting_min == 0
    assert chill.hands_on.value == 1
    assert chill.waiting_min == pytest.approx(179)


def test_juice_warmed_in_a_second_pot_leaves_the_batch_hot():
    line = made("Boil for 3 min.\nWarm the lemon juice to 40 °C.\nCool the base to 60 °C.")
    side, cool = line.stage(2), line.stage(3)
    assert side.note == "In a second pot."
    assert (side.begin_c, side.end_c) == (100, 100)
    assert (cool.begin_c, cool.end_c) == (100, 60)
    assert cool.minutes.value == pytest.approx(20)
    assert point(line, "hydrate").stage == 1


def test_ready_is_when_serving_begins():
    line = made()
    assert line.ready.value == pytest.approx(line.stage(8).start.value)
    without = made("Heat to 95 °C.\nChill for 2 h.")
    assert without.ready.value == pytest.approx(without.stages[-1].end_min)


def test_points_come_in_the_order_of_the_work():
    line = made(cooling=cooling_made(**{"5": minutes(170, 140, 240)}))
    assert [one.key for one in line.points] == [
        "hydrate", "acid", "pour", "chill_21", "chill_5"
    ]  # fmt: skip


def test_the_acid_point_names_the_temperature():
    acid = point(made(), "acid")
    assert acid.stage == 5
    assert acid.target.startswith("about 60 °C (140 °F), above")
    assert acid.verdict is Verdict.YES
    hot = point(made("Heat to 95 °C.\nStir in the lemon juice.\nPour into cups."), "acid")
    assert hot.verdict is Verdict.NO


def test_the_pour_point_says_how_long_it_stays_liquid():
    pour = point(made("Heat to 95 °C.\nPour into the cups at 70 °C.\nChill for 2 h."), "pour")
    assert pour.verdict is Verdict.YES
    assert pour.window.low < pour.window.value < pour.window.high
    assert "sets in the pot in about" in pour.window_text
    cold = point(made("Heat to 95 °C.\nPour into the cups at 25 °C.\nChill for 2 h."), "pour")
    assert cold.verdict is Verdict.NO
    assert cold.window_text == "It may set in the pot already."


def test_the_pour_point_counts_where_kitchens_see_it_set():
    lines = "700 g whole milk\n150 g heavy cream\n4 g kappa carrageenan"
    steps = "Heat to 95 °C.\nPour into the cups at 72 °C.\nChill for 2 h."
    bench = bench_build(agar_formula(steps, ingredients=lines))
    law = bench.state.texture.first_set_c
    (kappa,) = bench.state.agents.values()
    seen = float(kappa.practice_set_c.high[0])
    pour = point(timeline(bench), "pour")
    assert float(law.high[0]) < 72.0 < seen
    assert pour.target_c == pytest.approx(seen, abs=1.0)
    assert pour.verdict is Verdict.CANNOT_TELL


@pytest.mark.parametrize(
    ("end_min", "first", "all_in_all"),
    [
        # From 57 to 21 °C is 36 of 58 °C of the way, to 5 °C 52 of 58; both for all edges.
        (180.0, Verdict.YES, Verdict.YES),
        (200.0, Verdict.NO, Verdict.YES),
        (430.0, Verdict.NO, Verdict.NO),
    ],
)
def test_cooling_points_count_from_the_hot_limit(end_min, first, all_in_all):
    line = made(cooling=cooling_made(end_min=end_min))
    assert point(line, "chill_21").verdict is first
    assert point(line, "chill_5").verdict is all_in_all


def test_cooling_points_are_open_without_a_mold_or_in_between():
    assert point(made(), "chill_5").verdict is None
    cooling = cooling_made(end_min=180.0)
    core = cooling.core
    wide = replace(core, high_c=np.maximum(core.celsius, 25.0) + 2.0)
    line = made(cooling=replace(cooling, courses=(wide, *cooling.courses[1:])))
    assert point(line, "chill_21").verdict is Verdict.CANNOT_TELL


def test_what_is_served_hot_has_no_cooling_point():
    line = made("Heat to 95 °C.\nPour into cups at 65 °C.")
    assert not [one for one in line.points if one.key.startswith("chill")]


def test_egg_asks_for_its_temperature():
    formula = agar_formula(ingredients="500 g whole milk\n100 g egg yolk\n4 g agar")
    egg = point(timeline(bench_build(formula)), "egg")
    assert "70 °C (158 °F)" in egg.target
    assert egg.evidence[0].source == "fda_food_code_2022"


def test_no_steps_and_no_cold_step_are_said():
    assert "No steps are written" in made(" ").notes[0]
    line = made("Heat to 95 °C.\nPour into cups.", cooling=cooling_made())
    assert "the time in the cold is not counted" in line.notes[0]


def test_work_is_laid_back_from_serving_so_that_a_slow_kitchen_is_ready():
    line = made()
    plan = schedule(line, serve_min=18 * 60.0)
    assert plan.is_possible
    assert 0 <= 18 * 60.0 - (plan.start_min + line.ready.high) < 5
    assert plan.start_min % 5 == 0
    assert plan.rows[0].begins == plan.start_min
    assert all(row.earliest <= row.begins <= row.latest for row in plan.rows)
    assert plan.rows[-1].latest <= 18 * 60.0
    assert "at the latest" in plan.text


def test_an_early_serving_starts_the_day_before():
    plan = schedule(made(), serve_min=60.0)
    assert plan.start_min < 0
    assert "the day before" in plan.text


def test_serving_too_soon_says_how_much_and_what_to_do():
    line = made()
    plan = schedule(line, serve_min=12 * 60.0, earliest_min=11 * 60.0)
    assert not plan.is_possible
    assert plan.short_min == pytest.approx(line.ready.high - 60.0)
    assert "too late for 12:00 (12:00 pm)" in plan.text
    assert "Serve at" in plan.action
    assert "or later" in plan.action


def test_a_usual_kitchen_may_make_what_a_slow_one_does_not():
    line = made()
    serve = 11 * 60.0 + line.ready.value + 10
    assert "a usual one makes it with 10 min to spare" in (
        schedule(line, serve_min=serve, earliest_min=11 * 60.0).text
    )


@pytest.mark.parametrize(
    ("minutes_", "said"),
    [
        (0, "00:00 (12:00 am)"),
        (725, "12:05 (12:05 pm)"),
        (-1, "23:59 (11:59 pm) the day before"),
        (1440 + 61, "01:01 (1:01 am) the next day"),
        (-3000, "22:00 (10:00 pm) 3 days before"),
    ],
)
def test_a_clock_names_the_day(minutes_, said):
    assert clock_print(minutes_) == said


def test_a_rest_ends_when_the_step_says_however_warm_it_is():
    rest = made(steps="Heat to 85 °C\nPour into cups\nLeave at 20 °C for 1 h\nChill 2 h").stage(3)
    assert (rest.minutes.low, rest.minutes.value, rest.minutes.high) == (60.0, 60.0, 60.0)


def test_a_set_block_that_is_reheated_does_not_heat_like_the_pot():
    steps = "Heat to 90 °C\nPour into cups\nChill 2 h\nReheat to 74 °C"
    line = made(steps=steps, pot=pot_made())
    assert line.stage(1).basis is Basis.COMPUTED
    assert line.stage(4).basis is Basis.ASSUMED
