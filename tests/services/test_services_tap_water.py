"""The hardness in the settings changes the free calcium of a formula with tap water."""

import pytest
from builders_kitchen import formula_of

from setwell.domain.pantry import Kitchen, WaterHardness
from setwell.services.assessment import formula_assess
from setwell.services.kitchen import kitchen_settings_save

pytestmark = pytest.mark.django_db

STEPS = "Whisk the powder into the water.\nBoil 1 min, stirring.\nChill to 4 °C.\n"
ALGINATE = "500 g water\n5 g sodium alginate\n"
IOTA = "500 g water\n2 g iota carrageenan\n"


def figure(ingredients, key="free_calcium"):
    return formula_assess(formula=formula_of(ingredients=ingredients, steps=STEPS)).figure(key)


def calcium(ingredients):
    return figure(ingredients).estimate.value


def water_is(hardness, **minerals):
    kitchen_settings_save(kitchen=Kitchen(water_hardness=hardness, **minerals))


@pytest.mark.parametrize("ingredients", [ALGINATE, IOTA])
def test_each_harder_water_brings_more_free_calcium(ingredients):
    found = []
    for hardness in ("soft", "medium", "hard", "very hard"):
        water_is(WaterHardness(hardness))
        found.append(calcium(ingredients))
    # The presets rise from 0.22 to 2.2 mmol/L; a little of it is held by the bicarbonate.
    assert found == sorted(found)
    assert found[-1] - found[0] == pytest.approx(1.9, abs=0.25)


def test_harder_water_lets_iota_set_warmer():
    found = []
    for hardness in (WaterHardness.SOFT, WaterHardness.VERY_HARD):
        water_is(hardness)
        assessment = formula_assess(formula=formula_of(ingredients=IOTA, steps=STEPS))
        found.append(assessment.agents[0].set_temperature_c.value)
    assert found[1] > found[0] + 1


def test_a_value_from_the_supplier_counts_and_says_whose_it_is():
    water_is(WaterHardness.SOFT)
    soft = calcium(ALGINATE)
    water_is(WaterHardness.SOFT, water_calcium_mmol_l=3.0)
    told = figure(ALGINATE)
    assert told.estimate.value > soft + 2
    assert "this_kitchen" in {citation.source for citation in told.estimate.evidence}


def test_citrate_takes_the_calcium_of_hard_water_from_the_alginate():
    water_is(WaterHardness.VERY_HARD)
    assert calcium(ALGINATE + "3 g trisodium citrate\n") < calcium(ALGINATE) / 5


def test_distilled_water_knows_no_hardness():
    distilled = ALGINATE.replace("water", "distilled water", 1)
    water_is(WaterHardness.VERY_HARD)
    hard = calcium(distilled)
    water_is(WaterHardness.SOFT)
    assert calcium(distilled) == hard
    assert hard < calcium(ALGINATE)
