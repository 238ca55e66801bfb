"""What a log proves: never across a gap, never by one lucky probe."""

import itertools

import numpy as np
import pytest
from builders_probe import batch_course, log_of

from setwell import formula_make
from setwell.engine.assess import bench_build
from setwell.engine.heat.course import Course
from setwell.engine.probe.comparing import compared
from setwell.engine.probe.judging import log_judge
from setwell.engine.probe.results import PhaseKind
from setwell.engine.safety.results import Ruling
from setwell.engine.verdict import Verdict
from setwell.science.lethality.clocks import longest_hold

CUSTARD = "500 g whole milk\n100 g egg yolk\n60 g sugar\n4 g kappa carrageenan"


@pytest.fixture(scope="module")
def bench():
    return bench_build(
        formula_make(title="Set custard", ingredients=CUSTARD, steps="Heat to 88 °C, hold 10 min")
    )


def rulings(found):
    return {check.key: check.ruling for check in found.checks}


def test_a_good_batch_passes_and_its_agent_is_hot_enough(bench):
    seconds, celsius = batch_course()
    found = log_judge(log_of(seconds, celsius), bench)
    assert rulings(found)["egg"] is Ruling.PASS
    assert rulings(found)["cooling_first_stage"] is Ruling.PASS
    assert rulings(found)["cooling_total"] is Ruling.PASS
    assert [agent.hydrates for agent in found.agents] == [Verdict.YES]
    assert found.agents[0].needs_c == 85.0
    assert found.summary.startswith("Pass")


def test_the_coldest_probe_decides(bench):
    seconds, celsius = batch_course()
    cold = np.minimum(celsius, 60.0)
    found = log_judge(log_of(seconds, celsius, cold), bench)
    assert rulings(found)["egg"] is Ruling.FAIL
    assert found.agents[0].hydrates is Verdict.NO


def test_a_probe_in_the_air_decides_nothing(bench):
    seconds, celsius = batch_course()
    log = log_of(seconds, celsius, np.full(len(seconds), 4.0), names=("Core", "Air"))
    assert rulings(log_judge(log, bench))["egg"] is Ruling.PASS


def test_heat_in_a_gap_counts_for_nothing_and_is_not_held_against_it(bench):
    seconds, celsius = batch_course(hold_min=40)
    hot = np.flatnonzero(celsius > 60)
    kept = np.ones(len(seconds), dtype=bool)
    # Only the edges of the hot stretch were recorded: half a minute on either side.
    kept[hot[2] : hot[-2]] = False
    found = log_judge(log_of(seconds[kept], celsius[kept]), bench)
    assert rulings(found)["egg"] is Ruling.CANNOT_TELL
    assert found.agents[0].hydrates is Verdict.CANNOT_TELL


def test_no_hold_is_put_together_across_a_gap(bench):
    seconds, celsius = batch_course(hold_min=40)
    course = log_judge(log_of(seconds, celsius), bench).coldest
    whole = longest_hold(course.seconds, course.low_c, 85.0)
    kept = np.ones(len(seconds), dtype=bool)
    kept[200:260] = False
    course = log_judge(log_of(seconds[kept], celsius[kept]), bench).coldest
    assert whole > 2_400
    assert longest_hold(course.seconds, course.low_c, 85.0) < whole - 600


def test_a_pass_outside_of_a_gap_stays_a_pass(bench):
    seconds, celsius = batch_course(hold_min=40)
    kept = np.ones(len(seconds), dtype=bool)
    kept[250:300] = False
    found = log_judge(log_of(seconds[kept], celsius[kept]), bench)
    assert rulings(found)["egg"] is Ruling.PASS


def test_a_gap_that_holds_the_whole_cooling_leaves_it_open(bench):
    seconds, celsius = batch_course()
    kept = (celsius > 60) | (celsius < 6)
    kept &= (seconds < 2_400) | (celsius < 6)
    found = log_judge(log_of(seconds[kept], celsius[kept]), bench)
    assert rulings(found)["cooling_first_stage"] is Ruling.CANNOT_TELL


def test_a_gap_never_turns_a_slow_cooling_into_a_pass(bench):
    seconds, celsius = batch_course(cool_h=20)
    whole = rulings(log_judge(log_of(seconds, celsius), bench))
    kept = np.ones(len(seconds), dtype=bool)
    kept[400:1_200] = False
    holey = rulings(log_judge(log_of(seconds[kept], celsius[kept]), bench))
    assert whole["cooling_total"] is Ruling.FAIL
    assert holey["cooling_total"] is not Ruling.PASS
    assert holey["cooling_first_stage"] is not Ruling.PASS


def test_a_spike_over_the_limit_is_no_pass(bench):
    seconds = np.arange(0, 1_800, 1.0)
    celsius = np.minimum(20 + seconds / 30, 55.0)
    celsius[1_000] = 95.0
    assert rulings(log_judge(log_of(seconds, celsius), bench))["egg"] is Ruling.FAIL


def test_a_probe_that_never_moves_proves_nothing(bench):
    seconds = np.arange(0, 3_600, 10.0)
    found = log_judge(log_of(seconds, np.full(len(seconds), 88.0)), bench)
    assert found.checks == ()
    assert found.agents == ()


@pytest.mark.parametrize("count", [0, 1])
def test_too_few_samples_give_no_verdict(bench, count):
    found = log_judge(log_of(np.arange(count), np.full(count, 88.0)), bench)
    assert found.checks == ()


def test_probes_that_never_ran_together_give_no_verdict(bench):
    seconds, celsius = batch_course()
    half = len(seconds) // 2
    first, second = celsius.copy(), celsius.copy()
    first[half:], second[:half] = np.nan, np.nan
    assert log_judge(log_of(seconds, first, second), bench).checks == ()


def test_a_wide_probe_error_makes_close_verdicts_open(bench):
    seconds = np.arange(0, 3_600, 5.0)
    celsius = np.minimum(20 + seconds / 20, 71.0)
    sure = rulings(log_judge(log_of(seconds, celsius, probe_error_c=0.1), bench))
    unsure = rulings(log_judge(log_of(seconds, celsius, probe_error_c=15.0), bench))
    assert sure["egg"] is Ruling.PASS
    assert unsure["egg"] is Ruling.CANNOT_TELL


def test_a_log_that_ends_hot_is_still_open(bench):
    seconds = np.arange(0, 1_000, 10.0)
    found = log_judge(log_of(seconds, np.minimum(20 + seconds / 14, 88.0)), bench)
    assert found.agents[0].hydrates is Verdict.CANNOT_TELL
    assert "when the log ends" in found.agents[0].text


def test_a_log_that_begins_at_its_hottest_says_nothing_of_the_heating_before(bench):
    seconds = np.arange(0, 20_000, 60.0)
    cooled = log_judge(log_of(seconds, 4 + 76 * np.exp(-seconds / 4_000)), bench)
    assert cooled.agents[0].hydrates is Verdict.CANNOT_TELL
    assert "how hot it was before is not known" in cooled.agents[0].text
    # One that warms and stays below, or never was warm, is no such log.
    warmed = log_judge(log_of(seconds, np.minimum(20 + seconds / 60, 80 - seconds / 600)), bench)
    assert warmed.agents[0].hydrates is Verdict.NO
    cold = log_judge(log_of(seconds, 20 - seconds / 2_000), bench)
    assert cold.agents[0].hydrates is Verdict.NO


def test_without_a_formula_only_the_cooling_is_judged():
    seconds, celsius = batch_course()
    found = log_judge(log_of(seconds, celsius))
    assert set(rulings(found)) == {
        "cooling_first_stage", "cooling_total", "unknown_food",
    }  # fmt: skip
    assert found.agents == ()


def test_the_phases_of_a_batch_are_found(bench):
    seconds, celsius = batch_course(hold_min=12)
    phases = log_judge(log_of(seconds, celsius), bench).phases
    kinds = [phase.kind for phase in phases]
    assert kinds[:3] == [PhaseKind.HEATING, PhaseKind.HOLDING, PhaseKind.COOLING]
    hold = phases[1]
    assert hold.end_s - hold.start_s == pytest.approx(720, abs=180)
    assert all(one.end_s == two.start_s for one, two in itertools.pairwise(phases))


def test_a_second_heating_is_a_phase_of_its_own():
    up, down = np.linspace(20, 90, 60), np.linspace(90, 30, 60)
    celsius = np.concatenate([up, down, np.linspace(30, 80, 60)])
    found = log_judge(log_of(np.arange(180) * 10.0, celsius))
    kinds = [one.kind for one in found.phases if one.kind is not PhaseKind.HOLDING]
    assert kinds == [PhaseKind.HEATING, PhaseKind.COOLING, PhaseKind.HEATING]


def course_of(celsius, error=0.0, seconds=None):
    times = np.arange(len(celsius)) * 60.0 if seconds is None else seconds
    return Course("Core", times, celsius, celsius - error, celsius + error)


def test_measured_beside_computed_tells_how_far_and_when():
    base = np.linspace(80, 20, 61)
    warm = base.copy()
    warm[30] += 4
    beside = compared(course_of(warm + 1, 0.5), course_of(base, 0.5))
    assert beside.mean_c == pytest.approx(1 + 4 / 61, abs=0.01)
    assert beside.worst_c == pytest.approx(5)
    assert beside.worst_at_s == 1_800
    assert beside.within_pct == pytest.approx(100 * 60 / 61, abs=2)
    assert "warmer than computed on average" in beside.text


def test_courses_that_share_no_time_are_not_compared():
    early = course_of(np.linspace(80, 20, 10))
    late = course_of(np.linspace(80, 20, 10), seconds=np.arange(10) * 60.0 + 9_000)
    assert compared(early, late) is None
