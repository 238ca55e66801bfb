"""How many warm molds a cold place takes, and what they do to its air."""

import numpy as np
import pytest

from setwell.domain.equipment import Cooler, CoolerKind
from setwell.engine.heat.cold_room import (
    POWER_GUESSED,
    air_advice,
    air_course,
    ice_melted,
    minutes_above,
    most_molds,
    warmest_allowed,
)
from setwell.engine.heat.course import Course
from setwell.errors import InputError
from setwell.provenance import Grade

# A cup of 150 g from 60 °C to 4 °C in three hours.
CUP = {"heat_per_mold_j": 32e3, "seconds": 10_800.0, "start_c": 60.0}
FRIDGE = Cooler(name="The fridge", inside_l=300.0, cooling_w=150.0)


def test_a_household_fridge_takes_a_dozen_or_two_of_cups():
    found = most_molds(FRIDGE, **CUP)
    assert 8.0 <= found.value <= 30.0
    assert found.low < found.value < found.high
    assert found.flags == ()
    assert found.grade is Grade.ESTIMATED


def test_the_number_is_the_last_that_keeps_the_limit():
    most = int(most_molds(FRIDGE, **CUP).value)
    warmest = [
        float(np.max(air_course(FRIDGE, count=count, **CUP).celsius)) for count in (most, most + 1)
    ]
    assert warmest[0] <= 5.0 < warmest[1]


def test_unknown_power_is_guessed_from_the_volume_and_says_so():
    known = most_molds(FRIDGE, **CUP)
    guessed = most_molds(Cooler(name="Fridge", inside_l=300.0), **CUP)
    assert guessed.flags == (POWER_GUESSED,)
    assert guessed.high - guessed.low > known.high - known.low


def test_only_the_power_is_enough():
    assert most_molds(Cooler(name="Fridge", cooling_w=150.0), **CUP).value > 0.0


@pytest.mark.parametrize("kind", [CoolerKind.ICE_BATH, CoolerKind.COUNTER])
def test_without_a_machine_there_is_no_number(kind):
    cooler = Cooler(name="Place", kind=kind, inside_l=100.0, cooling_w=100.0)
    assert most_molds(cooler, **CUP) is None
    assert air_course(cooler, count=3, **CUP) is None


def test_a_place_nobody_described_gives_no_number():
    assert most_molds(Cooler(name="Fridge"), **CUP) is None


def test_cold_molds_warm_nothing():
    assert most_molds(FRIDGE, heat_per_mold_j=0.0, seconds=3600.0, start_c=4.0) is None


def test_a_blast_chiller_takes_many_times_more():
    chiller = Cooler(name="Chiller", kind=CoolerKind.BLAST_CHILLER, air_c=0.0, inside_l=120.0)
    assert most_molds(chiller, **CUP).value > 4.0 * most_molds(FRIDGE, **CUP).value


def test_the_air_rises_and_comes_back():
    course = air_course(FRIDGE, count=40, **CUP, until_s=12 * 3600.0)
    peak = int(np.argmax(course.celsius))
    assert course.celsius[0] == course.celsius[-1] == 4.0
    assert np.all(np.diff(course.celsius[: peak + 1]) >= 0.0)
    assert np.all(np.diff(course.celsius[peak:]) <= 0.0)
    assert np.all((course.low_c <= course.celsius) & (course.celsius <= course.high_c))


def test_no_heat_is_lost_in_the_balance():
    # What the molds gave and what leaked in is what the machine took and the shelves still hold.
    cooler = Cooler(name="Fridge", inside_l=300.0, cooling_w=100.0)
    course = air_course(cooler, count=60, **CUP, until_s=7200.0, room_c=4.0)
    store, given_rate = 60 * 32e3 / (0.95 * 56.0), 3.0 / 10_800.0
    mold, given = 60.0, 0.0
    fine = course.at(np.linspace(0.0, 7200.0, 20_001))
    step = fine.seconds[1]
    for air in fine.celsius[:-1]:
        flow = store * given_rate * (mold - air)
        given, mold = given + flow * step, mold - flow * step / store
    leaked = float(np.sum(4.0 - fine.celsius[:-1]) * step) * 300.0 * 0.006
    held = 300.0 * 60.0 * (course.celsius[-1] - 4.0)
    assert given + leaked - 100.0 * 7200.0 == pytest.approx(held, rel=0.01)


def test_the_sentence_names_cups_temperatures_and_time():
    course = air_course(FRIDGE, count=40, **CUP)
    most = most_molds(FRIDGE, **CUP)
    said = air_advice(FRIDGE, course, count=40, noun="cups", most=most)
    assert said.code == "cold_place_full"
    assert said.text.startswith("40 cups warm The fridge to 16 °C (61 °F); its air stays above ")
    assert "5 °C (41 °F)" in said.text
    assert f"at most {most.value:.0f} at a time" in said.action


def test_few_cups_say_nothing():
    course = air_course(FRIDGE, count=2, **CUP)
    assert air_advice(FRIDGE, course, count=2, noun="cups", most=None) is None


def test_time_above_a_limit_is_read_on_the_straight_line():
    celsius = np.array([4.0, 8.0, 8.0, 4.0])
    course = Course("air", np.array([0.0, 600.0, 1200.0, 1800.0]), celsius, celsius, celsius)
    assert minutes_above(course, 6.0) == pytest.approx(20.0)
    assert minutes_above(course, 8.0) == 0.0
    assert minutes_above(course, 3.0) == pytest.approx(30.0)


def test_limits_are_those_of_cold_holding_except_in_a_freezer():
    assert warmest_allowed(FRIDGE) == 5.0
    freezer = Cooler(name="Freezer", kind=CoolerKind.FREEZER, air_c=-18.0)
    assert warmest_allowed(freezer) == -13.0


def test_an_ice_bath_uses_up_ice():
    found = ice_melted(count=12, heat_per_mold_j=32e3)
    assert found.unit == "kg"
    assert found.low == pytest.approx(12 * 32e3 / 333.6e3)
    assert found.low < found.value < found.high


@pytest.mark.parametrize("seconds", [0.0, -1.0, float("nan"), float("inf")])
def test_a_time_that_cannot_be_is_refused(seconds):
    with pytest.raises(InputError, match="above zero"):
        most_molds(FRIDGE, heat_per_mold_j=1e4, seconds=seconds, start_c=60.0)


def test_heat_that_is_no_number_is_refused():
    with pytest.raises(InputError, match="must be a number"):
        most_molds(FRIDGE, heat_per_mold_j=float("nan"), seconds=60.0, start_c=60.0)
