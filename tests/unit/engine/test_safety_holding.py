"""Holding, reheating, dates, and all checks in one verdict."""

from dataclasses import replace

import pytest
from builders_safety import CUSTARD, PLAIN_STEPS, bench_of, check_of, course_of

from setwell.engine.safety import (
    DEFERRAL,
    Basis,
    Holding,
    Ruling,
    cooling_checks,
    heating_checks,
    holding_checks,
    reheating_checks,
    summary_line,
    verdict_overall,
)

SWEET = bench_of(*CUSTARD, steps=PLAIN_STEPS)
PASS, FAIL, OPEN = Ruling.PASS, Ruling.FAIL, Ruling.CANNOT_TELL


def kept(*points: tuple[float, float], **kwargs: object) -> dict[str, Ruling]:
    checks = holding_checks(SWEET, (course_of(*points, **kwargs),))
    return {check.key: check.ruling for check in checks}


def test_hot_holding_is_the_coldest_moment():
    assert kept((0, 62), (60, 57.1), (90, 60))["hot_holding"] is PASS
    assert kept((0, 62), (60, 56.9), (90, 60))["hot_holding"] is FAIL
    assert kept((0, 62), (60, 57.1), (90, 60), error=0.5)["hot_holding"] is OPEN


def test_cold_holding_is_the_warmest_moment():
    assert kept((0, 3), (60, 4.9), (90, 4))["cold_holding"] is PASS
    assert kept((0, 3), (60, 5.1), (90, 4))["cold_holding"] is FAIL
    assert kept((0, 3), (60, 4.9), (90, 4), error=0.5)["cold_holding"] is OPEN


def test_the_coldest_place_counts_hot_and_the_warmest_counts_cold():
    warm, cool = course_of((0, 60), (60, 60)), course_of((0, 60), (60, 55), place="edge")
    hot = holding_checks(SWEET, (warm, cool))
    assert check_of(hot, "hot_holding").ruling is FAIL
    cold, mild = course_of((0, 3), (60, 3)), course_of((0, 3), (60, 7), place="top")
    assert check_of(holding_checks(SWEET, (cold, mild)), "cold_holding").ruling is FAIL


def test_time_without_control_counts_from_the_first_moment_out():
    # Out at 0, back below 5 °C after an hour: the clock never goes back.
    assert kept((0, 5), (10, 8), (60, 4), (239, 4))["time_control_4h"] is PASS
    assert kept((0, 5), (10, 8), (60, 4), (241, 4))["time_control_4h"] is FAIL
    assert kept((0, 5), (10, 8), (60, 4), (359, 4))["time_control_6h"] is PASS
    # Above 21 °C there are no six hours.
    assert kept((0, 5), (10, 22), (60, 4), (100, 4))["time_control_6h"] is FAIL
    # Already out when the record begins: nobody knows for how long.
    assert kept((0, 12), (60, 12))["time_control_4h"] is OPEN


def test_time_control_is_information_and_decides_nothing():
    checks = holding_checks(SWEET, (course_of((0, 3), (10, 8), (300, 8)),))
    clocks = [check for check in checks if check.topic == "time as control"]
    assert len(clocks) == 2
    assert {check.basis for check in clocks} == {Basis.INFORMATION}


def test_hot_or_cold_may_be_told():
    warm = course_of((0, 40), (60, 40))
    hot = holding_checks(SWEET, (warm,), holding=Holding.HOT)
    cold = holding_checks(SWEET, (warm,), holding=Holding.COLD)
    assert hot[0].key == "hot_holding"
    assert cold[0].key == "cold_holding"


def test_reheating_is_hot_for_15_seconds_within_two_hours():
    def rulings(*points: tuple[float, float], **kwargs: object) -> list[Ruling]:
        return [c.ruling for c in reheating_checks(SWEET, (course_of(*points, **kwargs),))]

    assert rulings((0, 4), (119, 74.1), (119.3, 74.1), (119.3, 60)) == [PASS, PASS]
    assert rulings((0, 4), (99, 60), (99, 74.1), (99.2, 74.1), (99.2, 60)) == [FAIL, PASS]
    assert rulings((0, 5), (125, 74.1), (126, 74.1)) == [PASS, FAIL]
    assert rulings((0, 5), (125, 60)) == [FAIL, FAIL]
    # Not cold any more when the record begins.
    assert rulings((0, 30), (60, 75), (61, 75)) == [PASS, OPEN]
    assert rulings((0, 5), (60, 60)) == [FAIL, OPEN]


def hold(celsius: float):
    course = course_of((0, 20), (0, celsius), (5, celsius), (5, 20))
    return heating_checks(SWEET, (course,))


def test_only_law_for_a_kitchen_decides_overall():
    checks = hold(72)
    # Rows for plants and the target at 90 °C fail, and say so, but do not decide.
    assert check_of(checks, "pasteurization_egg_dairy").ruling is FAIL
    assert check_of(checks, "botulinum_90").ruling is FAIL
    assert verdict_overall(checks) is PASS
    assert summary_line(checks).startswith("Pass: egg cooked.")
    assert summary_line(checks).endswith(DEFERRAL)


def test_one_failed_rule_fails_all_and_one_open_leaves_all_open():
    cooled = cooling_checks(SWEET, (course_of((0, 57), (60, 30)),))
    assert verdict_overall((*hold(72), *cooled)) is OPEN
    assert verdict_overall((*hold(60), *cooled)) is FAIL
    assert "egg cooked" in summary_line((*hold(60), *cooled))
    assert verdict_overall(()) is OPEN
    assert summary_line(()).startswith("Cannot tell")


def test_a_computed_pass_is_marked_in_the_summary():
    course = replace(course_of((0, 75), (5, 75)), is_measured=False)
    assert summary_line(heating_checks(SWEET, (course,))).startswith("Pass as computed")


@pytest.mark.parametrize("key", ["hot_holding", "time_control_4h"])
def test_checks_of_holding_name_their_section(key):
    check = check_of(holding_checks(SWEET, (course_of((0, 60), (9, 60)),)), key)
    assert check.section.startswith("3-501.1")
    assert check.edition == "Food Code 2022"


def test_a_miss_by_a_hair_does_not_read_like_the_limit():
    cold = holding_checks(SWEET, (course_of((0, 3), (60, 5.01), (90, 3)),))
    assert "warmest 5.1 °C" in check_of(cold, "cold_holding").text
    hot = holding_checks(SWEET, (course_of((0, 60), (60, 56.99), (90, 60)),))
    assert "coldest 56.9 °C" in check_of(hot, "hot_holding").text
    slow = cooling_checks(SWEET, (course_of((0, 57), (60, 21), (360.3, 5)),))
    assert "before 6 h 1 min" in check_of(slow, "cooling_total").text


def test_a_rule_of_thumb_behind_a_course_is_not_taken_for_a_missing_error():
    from setwell.provenance import Citation, Grade

    practice = (Citation("common_practice", "common practice, no source", Grade.ESTIMATED),)
    course = replace(course_of((0, 60), (9, 60), is_measured=False), evidence=practice)
    assert "off by" not in holding_checks(SWEET, (course,))[0].text
