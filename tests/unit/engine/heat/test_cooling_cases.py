"""The slow and the quick case: every doubt moved by its share."""

import pytest
from builders_cooling import JAR, TRAY, agar_milk, plan_of

from setwell.domain.equipment import CoolerKind
from setwell.engine.heat.cooling_cases import quick_case, slow_case
from setwell.engine.heat.cooling_setup import cooling_setup


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
    assert abs(slow_case(tray).pull) > 0.8
    assert abs(slow_case(bath).pull) < abs(slow_case(tray).pull)


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
