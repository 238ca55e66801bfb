"""The slow and the quick case: every doubt moved by its share."""

import math

import pytest
from builders_cooling import JAR, TRAY, agar_milk, plan_of

from setwell.domain.equipment import CoolerKind
from setwell.engine.heat.cooling_cases import (
    LEFT,
    coefficient_ratios,
    left_at_end,
    quick_case,
    slow_case,
)
from setwell.engine.heat.cooling_setup import cooling_setup
from setwell.engine.heat.mold_body import face_areas


def situation(form, **fields):
    return cooling_setup(agar_milk(), plan_of(form, **fields)).situation


def test_slow_and_quick_pull_in_opposite_directions():
    at = situation(JAR)
    slow, quick = slow_case(at), quick_case(at)
    assert slow.pull < 0.0 < quick.pull
    assert slow.capacity > 1.0 > quick.capacity
    assert slow.conductivity < 1.0 < quick.conductivity
    assert slow.air_k > 0.0 > quick.air_k
    assert slow.pour_k > 0.0 > quick.pour_k


def test_no_doubt_is_moved_farther_than_its_own_range():
    for kind, air in ((CoolerKind.FRIDGE, 4.0), (CoolerKind.ICE_BATH, 1.0)):
        for case in (slow_case(situation(JAR, kind=kind, air_c=air)),
                     quick_case(situation(JAR, kind=kind, air_c=air))):  # fmt: skip
            assert abs(case.pull) <= 1.0
            assert abs(case.air_k) <= 2.0
            assert abs(case.pour_k) <= 3.0


def test_the_surface_carries_most_of_the_doubt_of_a_tray_and_the_food_that_of_a_bath():
    tray, bath = situation(TRAY), situation(JAR, kind=CoolerKind.ICE_BATH, air_c=1.0)
    assert tray.outside_share > 0.7
    assert bath.outside_share < 0.2
    case = slow_case(tray)
    assert math.hypot(case.pull, case.shelf, case.steam) > 0.8
    assert abs(slow_case(bath).pull) < abs(case.pull)


def test_air_shelf_and_steam_do_not_go_wrong_together():
    """Three doubts at once come to the root of the sum of their squares, not to their sum."""
    tray = situation(TRAY)
    ratios = coefficient_ratios(tray, is_slow=True)
    assert all(ratio < 0.0 for ratio in ratios)
    case = slow_case(tray)
    areas = face_areas(tray.mold)
    usual, moved = (
        sum(a * tray.faces.passed(n, 0.3 * tray.fall, pull, own(n)) for n, a in areas.items())
        for pull, own in ((0.0, lambda _: 0.0), (case.pull, case.own))
    )
    together = math.log(moved / usual)
    assert sum(ratios) < together
    assert together == pytest.approx(-math.hypot(*ratios), rel=0.25)


def test_the_air_itself_counts_most_where_the_food_comes_close_to_it():
    at = situation(JAR)
    end = left_at_end(at)
    assert end == pytest.approx(1.0 / 86.0)
    assert slow_case(at, end).air_k > 2.0 * slow_case(at).air_k
    assert abs(slow_case(at, end).pull) < abs(slow_case(at).pull)
    assert left_at_end(situation(JAR, air_c=-30.0)) == LEFT


def test_a_measured_coefficient_narrows_the_range():
    setup = [cooling_setup(agar_milk(), plan_of(JAR, coefficient=c)) for c in (None, 10.0)]
    spread = []
    for one in setup:
        seconds = one.seconds()
        cases = (slow_case(one.situation), quick_case(one.situation))
        slow, quick = (one.march(seconds, case, body=one.body(case)) for case in cases)
        spread.append(float((slow.core - quick.core).max()))
    assert spread[1] < spread[0]


def test_shares_are_between_none_and_all():
    for form in (JAR, TRAY):
        assert 0.0 < situation(form).outside_share <= 1.0
        assert situation(form).fall == pytest.approx(86.0)
