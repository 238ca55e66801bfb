"""Steps that heat the food from around, and steps that tell its own temperature."""

import pytest

from setwell.domain.step_surroundings import is_heated_around, tells_core
from setwell.domain.steps import step_parse


@pytest.mark.parametrize(
    "text",
    [
        "Bake at 100 °C for 45 min", "Bake 40 min", "Bake at 212°F for 45 min",
        "Steam at 90 °C for 20 min", "Cook in a water bath at 82 °C for 60 min",
        "Cook in a 180 °F water bath for 1 h", "Heat the water bath to 82 °C",
        "Cook sous-vide at 63 °C for 1 h", "Cook in sealed bags at 82 °C for 1 h",
        "Microwave to 80 °C", "Cook in jars at 85 °C for 40 min",
        "Bake at 100 °C for 45 min until the middle is 82 °C",
    ],
)  # fmt: skip
def test_the_temperature_is_that_around_the_food(text):
    assert is_heated_around(step_parse(text))


@pytest.mark.parametrize(
    "text",
    [
        "Heat over a bain-marie to 82 °C, stirring", "Bake until the core reads 82 °C",
        "Heat to 85 °C, stirring", "Bring to a boil", "Hold at 85 °C for 2 min",
        "Heat with steam to 90 °C", "Pour into jars at 70 °C", "Chill in an ice bath to 5 °C",
    ],
)  # fmt: skip
def test_the_temperature_is_that_of_the_food(text):
    assert not is_heated_around(step_parse(text))


@pytest.mark.parametrize(
    ("text", "is_told"),
    [
        ("Bake until the core reads 82 °C", True), ("Heat until the middle is 82 °C", True),
        ("Heat to 82 °C", False), ("Bake at 100 °C until the core is firm", False),
        ("Chill until the core is at 5 °C", False), ("Heat the core", False),
    ],
)  # fmt: skip
def test_a_step_may_tell_the_core_itself(text, is_told):
    assert tells_core(step_parse(text)) is is_told
