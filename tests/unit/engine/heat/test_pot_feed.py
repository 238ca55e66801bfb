"""The computed pot in the texture engine: what dissolves follows its zones."""

import numpy as np
import pytest
from builders_engine import formula_of

from setwell.domain.equipment import Hob
from setwell.domain.process_plan import PotPlan, PotStirring
from setwell.engine.assess import assess, bench_build
from setwell.engine.heat.pot import heat_pot
from setwell.engine.history import history_read
from setwell.engine.pipeline import batch_assess
from setwell.engine.pot_course import PotCourse, ZoneCourse, zones_joined
from setwell.engine.process import steps_read
from setwell.engine.verdict import Verdict

STEPS = "Whisk the powder with the sugar into the milk\nHeat to 85 °C, hold 5 min\nChill 4 h"
MILK = ("1000 g whole milk", "50 g sugar", "4 g kappa carrageenan")
COURSE = ZoneCourse((0.0, 5.0, 15.0), (20.0, 85.0, 85.0), (20.0, 75.0, 80.0), (20.0, 60.0, 70.0))
HOLDS = "Whisk it in\nHeat to 85 °C, hold 5 min\nChill"


def pot(stirring, power_w=2000.0, **plan):
    return PotPlan(stirring=stirring, hob=Hob(name="Hob", power_w=power_w), **plan)


def state(plan=None, lines=MILK, steps=STEPS):
    bench = bench_build(formula_of(*lines, steps=steps), pot=plan)
    return bench.state.agents[next(iter(bench.agents))]


def joined(steps, enters=0):
    return zones_joined(COURSE, history_read(steps_read(steps)).from_step(enters))


def test_the_pot_stands_in_for_the_way_up_and_the_steps_follow():
    minutes, zones = joined("Heat to 85 °C, hold 5 min\nChill to 4 °C, 4 h")
    assert zones[:, 0] == pytest.approx([20.0, 20.0, 20.0])
    at_15 = int(np.flatnonzero(minutes == 15.0)[0])
    assert zones[:, at_15] == pytest.approx([85.0, 80.0, 70.0])
    assert zones[:, -1] == pytest.approx([4.0, 4.0, 4.0])
    assert (np.diff(minutes) >= 0).all()
    # No zone gets warmer once the pot is off.
    assert (np.diff(zones[:, at_15:], axis=1) <= 1e-9).all()


def test_a_soak_before_the_pot_counts_in_the_cold():
    minutes, zones = joined("Stir in the powder\nRest 30 min\nHeat to 85 °C\nServe")
    assert minutes[1] == pytest.approx(32.0, abs=2.0)
    assert zones[:, :2] == pytest.approx(np.full((3, 2), 20.0))
    assert zones[0].max() == 85.0


def test_powder_that_goes_in_warm_meets_the_pot_there():
    steps = "Heat to 60 °C\nStir in the powder\nHeat to 85 °C\nServe"
    minutes, zones = joined(steps, enters=1)
    assert zones[0, 0] >= 60.0
    assert minutes[-1] < 15.0


def test_powder_that_goes_in_once_it_cools_never_sees_the_pot():
    steps = "Heat to 85 °C\nCool to 50 °C\nStir in the powder\nChill to 4 °C"
    _, zones = joined(steps, enters=2)
    assert zones.max() <= 50.0
    assert (np.ptp(zones, axis=0) == 0).all()


def test_an_unstirred_pot_leaves_the_top_behind_and_stirring_does_not():
    still, moved = state(pot(PotStirring.NONE)), state(pot(PotStirring.CONSTANT))
    assert still.working.zones[0, 0] > still.working.zones[2, 0] + 0.1
    assert np.ptp(moved.working.zones[:, 0]) < 0.02
    assert moved.hydrated.low[0] > still.hydrated.low[0]
    for found in (still, moved):
        low, value, high = (part[0] for part in (found.hydrated.low, found.hydrated.value,
                                                 found.hydrated.high))  # fmt: skip
        assert low <= value <= high


def test_without_a_plan_nothing_changes():
    assert state().hydrated.value[0] == state(None).hydrated.value[0]
    # A plan that cannot be computed leaves the steps' word.
    cold = state(PotPlan(target_c=10.0))
    assert cold.hydrated.value[0] == state().hydrated.value[0]


def test_a_plan_tells_how_hot_it_gets_where_the_steps_do_not():
    steps = "Whisk the powder into the milk\nHeat gently\nChill 4 h"
    assert np.isnan(state(steps=steps).hydrated.value[0])
    plan = pot(PotStirring.CONSTANT, target_c=85.0, hold_min=5.0)
    assert state(plan, steps=steps).hydrated.value[0] > 0.9


def test_the_assessment_takes_a_plan_or_what_came_of_it():
    formula = formula_of(*MILK, steps=STEPS)
    planned = assess(formula, pot=pot(PotStirring.CONSTANT)).agents[0]
    assert planned.hydrates is Verdict.YES
    course = PotCourse(COURSE, COURSE, COURSE, target_c=85.0)
    given = assess(formula, pot=course).agents[0]
    assert given.hydrated_fraction.value < planned.hydrated_fraction.value
    assert assess(formula).agents[0].hydrates is Verdict.CANNOT_TELL


def test_all_candidates_share_the_pot():
    bench = bench_build(formula_of(*MILK, steps=STEPS))
    grams = bench.plan.line_masses()
    course = PotCourse(COURSE, COURSE, COURSE, target_c=85.0)
    many = batch_assess(bench.plan, np.repeat(grams, 4, axis=0), pot=course)
    one = batch_assess(bench.plan, grams, pot=course)
    key = next(iter(bench.agents))
    assert many.agents[key].hydrated.value == pytest.approx(
        np.repeat(one.agents[key].hydrated.value, 4)
    )


def test_another_pot_is_not_answered_from_memory():
    warm = ZoneCourse(COURSE.minutes, COURSE.bottom, COURSE.bottom, COURSE.bottom)
    key = "kappa_carrageenan"
    plan = bench_build(formula_of(*MILK, steps=STEPS)).plan
    found = [
        batch_assess(plan, plan.line_masses(), pot=PotCourse(c, c, c, 85.0)).agents[key]
        for c in (COURSE, warm, COURSE)
    ]
    shares = [float(one.hydrated.value[0]) for one in found]
    assert shares[0] == shares[2] < shares[1]


@pytest.mark.parametrize("stirring", [PotStirring.CONSTANT, PotStirring.NONE])
def test_pot_and_texture_tell_the_same_share(stirring):
    formula = formula_of("900 g whole milk", "5 g kappa carrageenan", steps=HOLDS)
    plan = PotPlan(stirring=stirring)
    (told,) = heat_pot(bench_build(formula), plan).agents
    fed = bench_build(formula, pot=plan).state.agents["kappa_carrageenan"].hydrated
    assert told.dissolved.value == pytest.approx(float(fed.value[0]), abs=0.01)
    assert told.dissolved.low == pytest.approx(float(fed.low[0]), abs=0.02)
    assert told.coldest_dissolved.value <= told.dissolved.value + 1e-9
    assert told.coldest_dissolved.low <= told.coldest_dissolved.value <= told.coldest_dissolved.high
    assert f"about {100 * told.coldest_dissolved.value:.0f} % dissolves" in told.text


def test_the_stricter_of_chart_and_kinetics_counts():
    steps = "Whisk it in\nHeat to 90 °C, hold 2 min, stirring\nChill"
    short = bench_build(formula_of("900 g whole milk", "5 g kappa carrageenan", steps=steps))
    (told,) = heat_pot(short, PotPlan(stirring=PotStirring.CONSTANT)).agents
    # Nearly all of it dissolves, but the chart asks for longer: still no yes.
    assert told.dissolved.value > 0.9
    assert told.hydrates is Verdict.CANNOT_TELL


@pytest.mark.parametrize(("minutes", "is_said"), [(1, True), (20, False)])
def test_where_the_two_differ_the_text_says_which_counts(minutes, is_said):
    steps = f"Whisk it in\nBoil {minutes} min, stirring\nChill"
    bench = bench_build(formula_of("900 g whole milk", "5 g iota carrageenan", steps=steps))
    (told,) = heat_pot(bench, PotPlan(stirring=PotStirring.CONSTANT)).agents
    assert ("the stricter of the two counts" in told.text) is is_said
    assert ("longer to be sure" in told.text) is is_said
    assert (told.hydrates is Verdict.YES) is not is_said


def test_nothing_is_said_of_agents_that_dissolve_cold():
    bench = bench_build(formula_of("900 g water", "2 g xanthan gum", steps=HOLDS))
    assert heat_pot(bench, PotPlan()).agents == ()
