"""How hot the steps pour it."""

import pytest
from builders_engine import formula_of

from setwell.engine.assess import bench_build
from setwell.engine.heat.pour_temperature import pour_of, pour_temperature
from setwell.engine.process import steps_read


@pytest.mark.parametrize(
    ("steps", "celsius"),
    [
        ("Heat to 90 °C, hold 2 min\nPour into cups\nChill", 90.0),
        ("Heat to 90 °C\nCool to 60 °C\nPour into molds\nChill at 4 °C", 60.0),
        ("Heat to 85 °C\nPour and chill at 4 °C", 85.0),
        ("Boil, stirring\nPour\nFreeze", 100.0),
        ("Chill the bowl to 4 °C\nHeat to 82 °C\nPour\nChill 3 h", 82.0),
        ("Heat to 82 °C\nPour\nChill 3 h\nServe at 65 °C", 82.0),
    ],
)
def test_the_last_hot_step_before_the_cold_counts(steps, celsius):
    found = pour_temperature(steps_read(steps), None)
    assert found.celsius == celsius
    assert found.origin.startswith("step ")
    assert not found.is_assumed


def test_the_plan_wins_over_the_steps():
    found = pour_temperature(steps_read("Heat to 90 °C"), 55.0)
    assert (found.celsius, found.half_width, found.is_assumed) == (55.0, 1.0, False)


@pytest.mark.parametrize(("steps", "celsius"), [("", 80.0), ("Whisk\nPour\nChill", 20.0)])
def test_what_no_step_says_is_assumed_with_a_wide_range(steps, celsius):
    found = pour_temperature(steps_read(steps), None)
    assert found.celsius == celsius
    assert found.is_assumed
    assert found.half_width >= 5.0


def test_heat_without_a_number_is_a_usual_hot_fill():
    found = pour_temperature(steps_read("Heat until it thickens\nPour\nChill"), None)
    assert found.celsius == 80.0
    assert found.is_assumed


@pytest.mark.parametrize(
    ("steps", "celsius"),
    [
        ("Boil 3 min\nPour into the tray at 55 °C\nLeave at 20 °C for 1 h\nChill at 4 °C", 55.0),
        ("Boil\nPour into the frame at 80 °C\nChill 2 h\nReheat to 74 °C\nHold at 60 °C", 80.0),
        ("Pour into a pan\nHeat to 85 °C\nPour into cups\nChill", 85.0),
        ("Pour into ramekins\nSteam at 85 °C for 20 min\nChill", 85.0),
        ("Heat to 60 °C\nPour into a clean pan\nHeat to 82 °C\nPour into cups\nChill", 82.0),
        ("Boil\nWarm the juice to 40 °C\nPour into cups\nChill", 100.0),
        ("Heat to 85 °C\nStir in the salt, pour into the frame at 75 °C\nChill", 75.0),
        ("Heat to 85 °C\nRest until 60 °C\nPour into cups\nLeave at 20 °C for 1 h", 60.0),
        ("Heat to 85 °C\nLeave at 20 °C for 1 h\nChill 3 h", 85.0),
    ],
)
def test_nothing_after_the_pour_tells_its_temperature(steps, celsius):
    assert pour_temperature(steps_read(steps), None).celsius == celsius


def test_what_goes_in_cold_before_the_pour_cools_it():
    steps = "Heat the juice to 72 °C\nCool to 40 °C\nStir in the vodka\nPour into cups\nChill"
    found = pour_of(bench_build(formula_of("500 g apple juice", "500 g vodka", steps=steps)), None)
    # Half of it at 40 °C, half from fridge or shelf at 12 °C, give or take 8.
    assert found.celsius == pytest.approx(26.0, abs=0.5)
    assert found.half_width == pytest.approx(7.0, abs=0.5)
    assert found.origin == "step 2, and what goes in after it"


def test_a_seasoning_does_not_cool_it():
    steps = "Heat to 72 °C\nStir in the salt\nPour into cups\nChill"
    found = pour_of(bench_build(formula_of("500 g whole milk", "2 g salt", steps=steps)), None)
    assert (found.celsius, found.origin) == (72.0, "step 1")
