"""Logs of food that was held hot or cold, or heated again."""

import numpy as np
import pytest
from builders_engine import formula_of
from builders_probe import log_of

from setwell.engine.assess import bench_build
from setwell.engine.probe.judging import log_judge
from setwell.engine.probe.purpose import LogPurpose
from setwell.engine.safety.results import Ruling
from setwell.errors import InputError

CREAM = formula_of("500 g whole milk", "40 g sugar", "4 g kappa carrageenan", steps="Boil\nChill")
HOURS = np.arange(0.0, 7_200.0, 30.0)


@pytest.fixture(scope="module")
def bench():
    return bench_build(CREAM)


def ruled(bench, celsius, purpose, seconds=HOURS):
    # A sensor that never moves is not trusted.
    moving = celsius + 0.2 * np.sin(np.arange(len(celsius)) / 7.0)
    found = log_judge(log_of(seconds, moving), bench, purpose=purpose)
    return {check.key: check.ruling for check in found.checks}


def test_food_held_hot_is_judged_at_its_coldest(bench):
    kept = ruled(bench, np.full(len(HOURS), 63.0), LogPurpose.HELD_HOT)
    assert kept["hot_holding"] is Ruling.PASS
    assert not {"cooling_total", "pasteurization_rich_dairy"} & set(kept)
    let_down = ruled(bench, np.where(HOURS > 5_000, 50.0, 63.0), LogPurpose.HELD_HOT)
    assert let_down["hot_holding"] is Ruling.FAIL


def test_food_kept_cold_is_judged_at_its_warmest(bench):
    assert ruled(bench, np.full(len(HOURS), 2.0), LogPurpose.HELD_COLD)["cold_holding"] is (
        Ruling.PASS
    )
    warm = ruled(bench, np.where(HOURS > 5_000, 9.0, 2.0), LogPurpose.HELD_COLD)
    assert warm["cold_holding"] is Ruling.FAIL


def test_food_heated_again_has_to_be_hot_and_quick(bench):
    quick = np.minimum(4.0 + HOURS / 30.0, 80.0)
    assert set(ruled(bench, quick, LogPurpose.REHEATED).values()) == {Ruling.PASS}
    lukewarm = np.minimum(4.0 + HOURS / 30.0, 65.0)
    assert Ruling.FAIL in ruled(bench, lukewarm, LogPurpose.REHEATED).values()


def test_a_gap_takes_the_pass_away(bench):
    late = np.where(HOURS > 3_600, HOURS + 3_600, HOURS)
    kept = ruled(bench, np.full(len(HOURS), 63.0), LogPurpose.HELD_HOT, seconds=late)
    assert kept["hot_holding"] is Ruling.CANNOT_TELL


def test_it_takes_a_formula():
    with pytest.raises(InputError, match="judged with its formula"):
        log_judge(log_of(HOURS, np.full(len(HOURS), 63.0)), purpose=LogPurpose.HELD_HOT)
