"""How hot the steps pour it."""

import pytest

from setwell.engine.heat.pour_temperature import pour_temperature
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
