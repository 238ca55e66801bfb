"""Logs of more than one batch, of reheated food, and of probes that were checked or moved."""

import numpy as np
import pytest
from builders_probe import batch_course, log_of

from setwell import formula_make
from setwell.engine.assess import bench_build
from setwell.engine.probe.judging import log_judge
from setwell.engine.safety.results import Ruling

CUSTARD = "500 g whole milk\n100 g egg yolk\n60 g sugar"


@pytest.fixture(scope="module")
def bench():
    return bench_build(
        formula_make(title="Set custard", ingredients=CUSTARD, steps="Heat to 88 °C, hold 10 min")
    )


def rulings(celsius, bench, step=10.0, **fields):
    seconds = np.arange(len(celsius)) * step
    found = log_judge(log_of(seconds, celsius, **fields), bench)
    return {check.key: check.ruling for check in found.checks}


def line(*points):
    """Return °C every ten seconds along straight lines between (minute, °C)."""
    minutes, celsius = zip(*points, strict=True)
    return np.interp(np.arange(minutes[0], minutes[-1], 1 / 6), minutes, celsius)


GOOD = batch_course()[1]


def test_one_good_batch_is_heated_once_and_passes(bench):
    ruled = rulings(GOOD, bench)
    assert ruled["egg"] is ruled["cooling_total"] is Ruling.PASS
    assert "after_cooling" not in ruled


def test_a_second_batch_that_was_not_cooked_takes_the_pass_away(bench):
    ruled = rulings(np.concatenate([GOOD, batch_course(hot=60.0)[1]]), bench)
    assert ruled["egg"] is Ruling.CANNOT_TELL
    assert ruled["cooling_total"] is not Ruling.PASS


def test_a_second_batch_that_cooled_badly_takes_the_pass_away(bench):
    slow = batch_course(hot=86.0, cool_h=20.0)[1]
    ruled = rulings(np.concatenate([GOOD, np.full(900, 4.0), slow]), bench)
    assert Ruling.CANNOT_TELL in ruled.values()
    assert ruled["after_cooling"] is Ruling.CANNOT_TELL


def test_a_probe_checked_in_boiling_water_cooks_no_egg(bench):
    checked = line((0, 22), (1, 100), (4, 100), (5, 25), (10, 20), (40, 60), (60, 60), (300, 4))
    assert rulings(checked, bench)["egg"] is not Ruling.PASS
    straight_in = line((0, 100), (3, 100), (3.5, 52), (10, 52), (30, 61), (40, 58), (300, 4))
    assert rulings(straight_in, bench)["egg"] is not Ruling.PASS


def test_a_check_in_boiling_water_before_a_gap_cooks_no_egg(bench):
    celsius = line((0, 99), (5, 99), (60, 40), (80, 62), (90, 60), (300, 4))
    kept = np.ones(len(celsius), dtype=bool)
    kept[28:370] = False
    seconds = np.arange(len(celsius))[kept] * 10.0
    found = log_judge(log_of(seconds, celsius[kept]), bench)
    assert {one.key: one.ruling for one in found.checks}["egg"] is not Ruling.PASS


def test_slow_readings_hide_no_check_in_boiling_water(bench):
    celsius = [99.5, 31, 47, 60, 60, 42, 29, 20, 12, 6, 5, 4, 3, 3]
    assert rulings(np.array(celsius), bench, step=1_200.0)["egg"] is not Ruling.PASS
    cooked = [20, 31, 47, 80, 88, 42, 29, 20, 12, 6, 5, 4, 3, 3]
    assert rulings(np.array(cooked), bench, step=1_200.0)["egg"] is Ruling.PASS


def test_ice_water_at_the_start_takes_nothing_away(bench):
    ruled = rulings(np.concatenate([line((0, 0.1), (5, 0), (5.5, 20)), GOOD]), bench)
    assert ruled["egg"] is ruled["cooling_total"] is Ruling.PASS


def test_cold_egg_that_went_into_a_hot_pot_is_judged_from_there(bench):
    tempered = line((0, 20), (15, 90), (16, 60), (25, 63), (26, 63), (27, 58), (300, 4))
    assert rulings(tempered, bench)["egg"] is not Ruling.PASS
    cooked = line((0, 20), (15, 90), (16, 60), (25, 83), (30, 83), (90, 20), (250, 3))
    assert rulings(cooked, bench)["egg"] is Ruling.PASS
    lukewarm = line((0, 20), (15, 65), (16, 42), (25, 83), (30, 83), (90, 20), (250, 3))
    assert rulings(lukewarm, bench)["egg"] is Ruling.PASS


def test_a_probe_taken_out_in_a_warm_room_at_the_end_is_told(bench):
    out = np.concatenate([GOOD, np.full(900, 3.3), np.full(600, 23.0)])
    assert rulings(out, bench)["after_cooling"] is Ruling.CANNOT_TELL
    opened = np.concatenate([GOOD, np.full(900, 3.3), np.full(60, 7.5), np.full(600, 3.3)])
    assert "after_cooling" not in rulings(opened, bench)


def test_a_gap_of_hours_between_two_hot_readings_is_not_taken_for_hot(bench):
    celsius = np.concatenate([line((0, 20), (20, 88), (40, 80)), GOOD[240:]])
    seconds = np.arange(len(celsius)) * 10.0
    seconds[240:] += 10 * 3_600
    found = log_judge(log_of(seconds, celsius), bench)
    assert {one.ruling for one in found.checks if one.topic == "cooling"} == {Ruling.CANNOT_TELL}


def test_two_readings_hours_apart_are_no_line(bench):
    found = log_judge(log_of([0, 9_000, 18_000], [80.0, 15.0, 4.0]), bench)
    first = next(one for one in found.checks if one.key == "cooling_first_stage")
    assert first.ruling is Ruling.CANNOT_TELL
    in_time = log_judge(log_of([0, 6_600, 18_000], [80.0, 15.0, 3.0]), bench)
    first = next(one for one in in_time.checks if one.key == "cooling_first_stage")
    assert first.ruling is Ruling.PASS


def test_egg_that_went_in_after_the_probes_end_is_not_proven(bench):
    short = np.where(np.arange(len(GOOD)) < 600, GOOD, np.nan)
    log = log_of(np.arange(len(GOOD)) * 10.0, GOOD, short, egg_in_s=12_000.0)
    found = {check.key: check.ruling for check in log_judge(log, bench).checks}
    assert found["egg"] is Ruling.CANNOT_TELL


def test_heat_before_the_egg_went_in_is_not_counted(bench):
    cooled_down = line((0, 20), (15, 90), (45, 58), (60, 58), (300, 4))
    assert rulings(cooled_down, bench)["egg"] is Ruling.PASS
    assert rulings(cooled_down, bench, egg_in_s=45 * 60.0)["egg"] is Ruling.FAIL
