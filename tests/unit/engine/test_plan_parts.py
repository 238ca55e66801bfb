"""Formulas inside formulas: circles, depth, what a part leaves out, and safety inside parts."""

import pytest
from builders_engine import HOT, assess_of, codes, finding_of, formula_of

from setwell.engine.assessment import Verdict

BASE = formula_of("500 g whole milk", "100 g sugar", title="Milk base")


def test_a_part_brings_its_materials_under_its_line():
    found = assess_of("200 g water", "300 g Milk base", parts=(BASE,))
    assert found.lines[1].material_kind == "formula"
    assert found.lines[1].material_name == "Milk base"
    (milk,) = found.allergens
    assert (milk.allergen, milk.lines) == ("milk", (2,))
    assert found.is_complete


def test_a_part_by_volume_asks_for_grams():
    found = assess_of("1 cup Milk base", parts=(BASE,))
    assert "give its weight in grams" in found.lines[0].problem
    assert found.lines[0].grams is None


def test_a_stated_weight_of_a_part_counts():
    assert assess_of("1 cup (240 g) Milk base", parts=(BASE,)).lines[0].grams == 240


def test_a_part_in_percent_of_the_batch():
    found = assess_of("800 g water", "Milk base, 20%", parts=(BASE,))
    assert found.lines[1].grams == pytest.approx(200)


def test_a_food_of_the_same_name_wins_unless_the_line_says_formula():
    honey = formula_of("100 g sugar", "20 g water", title="Honey")
    assert assess_of("50 g honey", parts=(honey,)).lines[0].material_kind == "food"
    assert assess_of("50 g honey (formula)", parts=(honey,)).lines[0].material_kind == "formula"


def test_a_formula_that_uses_itself_is_refused():
    found = assess_of("100 g Loop", "50 g water", title="Loop", parts=(formula_of(title="Loop"),))
    assert "uses itself (loop → loop)" in found.lines[0].problem
    assert found.batch.finished_g == 50


def test_a_circle_through_another_formula_is_told():
    first = formula_of("100 g Second", "10 g sugar", title="First")
    second = formula_of("100 g First", "10 g water", title="Second")
    found = assess_of("100 g Second", "10 g sugar", title="First", parts=(first, second))
    told = finding_of(found, "unread_inside")
    assert "In “Second”" in told.text
    assert "first → second → first" in told.text
    assert told.lines == (1,)
    assert not found.is_complete


def test_too_deep_a_nest_is_told():
    layers = tuple(
        formula_of(f"100 g Layer {n + 1}", "10 g sugar", title=f"Layer {n}") for n in range(12)
    )
    last = formula_of("10 g sugar", title="Layer 12")
    found = assess_of("100 g Layer 0", parts=(*layers, last))
    assert "nested more than 8 deep" in finding_of(found, "unread_inside").text
    assert not found.is_complete


def test_a_nest_of_seven_is_fine():
    layers = tuple(formula_of(f"100 g Layer {n + 1}", title=f"Layer {n}") for n in range(6))
    found = assess_of("100 g Layer 0", parts=(*layers, formula_of("9 g sugar", title="Layer 6")))
    assert found.is_complete
    assert found.nutrient("sugars_g").per_batch.value == pytest.approx(99.8)


def test_what_a_part_could_not_read_is_never_silent():
    base = formula_of("500 g water", "30 g peanutty crunch", title="Nut base")
    found = assess_of("300 g Nut base", parts=(base,), diets=["vegan"])
    told = finding_of(found, "unread_inside")
    assert "peanutty crunch" in told.text
    assert "allergens too" in told.text
    assert not found.is_complete
    assert {diet.verdict for diet in found.diets} == {Verdict.CANNOT_TELL}


def test_steam_lost_in_a_part_is_water():
    thick = formula_of("100 g sugar", "100 g water", title="Syrup", evaporation_pct=25)
    found = assess_of("150 g Syrup", parts=(thick,))
    assert found.nutrient("sugars_g").per_batch.value == pytest.approx(99.8)
    assert found.nutrient("water_g").per_batch.value == pytest.approx(50, abs=0.3)


def test_a_part_of_nothing_weighs_but_holds_nothing():
    found = assess_of("100 g Empty", "100 g water", parts=(formula_of(title="Empty"),))
    assert found.nutrient("water_g").per_batch.value == pytest.approx(99.9, abs=0.1)


EGGY = formula_of("400 g whole milk", "100 g egg yolk", title="Egg base")
COOKED = EGGY.revised(steps="Whisk the egg yolks into the milk\nHeat to 83 °C, stirring constantly")


def test_raw_egg_inside_a_part_is_still_raw():
    found = assess_of("300 g Egg base", parts=(EGGY,))
    assert finding_of(found, "undercooked_egg").lines == (1,)
    assert {"raw_egg", "consumer_advisory"} <= {caution.code for caution in found.cautions}


def test_egg_cooked_while_making_the_part_is_cooked():
    found = assess_of("300 g Egg base", parts=(COOKED,))
    assert "undercooked_egg" not in codes(found)


def test_egg_in_a_part_cooked_in_the_outer_pot_is_cooked():
    steps = "Heat the Egg base to 85 °C, stirring constantly"
    assert "undercooked_egg" not in codes(assess_of("300 g Egg base", steps=steps, parts=(EGGY,)))


def test_a_part_with_raw_egg_stirred_in_late_is_raw():
    steps = "Heat the milk to 95 °C, stirring\nCool to 30 °C\nStir in the Egg base\nChill"
    found = assess_of("300 g whole milk", "300 g Egg base", steps=steps, parts=(EGGY,))
    assert "undercooked_egg" in codes(found)


def test_raw_pineapple_inside_a_part_still_cuts_gelatin():
    fruit = formula_of("200 g pineapple", "50 g sugar", title="Fruit base")
    steps = "Bloom the gelatin\nWarm to 60 °C, stirring\nChill"
    found = assess_of(
        "250 g Fruit base", "250 g water", "10 g gelatin", steps=steps, parts=(fruit,)
    )
    assert "raw_enzyme_fruit" in codes(found)
    assert found.texture.sets is Verdict.NO


def test_an_agent_inside_a_part_counts_in_the_outer_batch():
    gel = formula_of("100 g water", "2 g agar", title="Agar base")
    found = assess_of("102 g Agar base", "98 g water", steps=HOT, parts=(gel,))
    assert found.agents[0].dose_pct.value == pytest.approx(1.0)
    assert found.agents[0].lines == (1,)
