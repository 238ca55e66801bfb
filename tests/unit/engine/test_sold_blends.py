"""Powders sold as a blend, and powders that steps call just that."""

import pytest
from builders_engine import assess_of

from setwell.engine.assessment import Verdict

WARM, BOILED = "Warm to 60 °C, stirring\nChill", "Boil 5 min, stirring\nChill"


@pytest.mark.parametrize("name", ["kappa konjac blend", "kappa LBG blend"])
def test_a_blend_sets_only_when_its_gelling_part_has_dissolved(name):
    # Konjac dissolves warm; that alone must not count as kappa.
    warm = assess_of("500 g whole milk", f"5 g {name}", steps=WARM)
    hot = assess_of("500 g whole milk", f"5 g {name}", steps=BOILED)
    assert warm.texture.sets is Verdict.NO
    assert hot.texture.sets is Verdict.YES


def test_the_powder_is_the_agent_when_no_step_names_it():
    late = "Boil\nCool to 60 °C\nAdd the powder\nChill"
    early = "Add the powder\nBoil 2 min, stirring\nChill"
    agents = [
        assess_of("500 g whole milk", "4 g kappa carrageenan", steps=steps).agents[0]
        for steps in (late, early)
    ]
    assert [agent.hydrates for agent in agents] == [Verdict.NO, Verdict.YES]


def test_chocolate_milk_is_not_a_bar_of_milk_chocolate():
    found = assess_of("500 g chocolate milk", "50 g milk chocolate")
    assert found.lines[0].grams is None
    assert found.lines[1].material_name == "Milk chocolate"
