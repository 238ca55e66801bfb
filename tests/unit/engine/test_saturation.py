"""More than the cold water dissolves is said, and the figures that count it are marked."""

import numpy as np
import pytest
from builders_engine import assess_of, codes, finding_of

from setwell.engine.acid_additives import additive_find
from setwell.engine.assessment import Severity
from setwell.engine.food_materials import food_materials
from setwell.engine.saturation import dissolves_at_most, loads
from setwell.tables.solution import solubilities

OUTSIDE = "outside the range of the model"
WATER = "100 g distilled water"


def flags_of(found, key):
    return found.figure(key).estimate.flags


# The last that may still dissolve, and the first that does not: the high end at 20 °C.
@pytest.mark.parametrize(
    ("name", "below", "above"),
    [
        ("salt", 36.4, 36.8),
        ("sugar", 207.5, 208.5),
        ("citric acid", 164.5, 165.5),
        ("malic acid", 139.5, 140.5),
        ("tartaric acid", 149.5, 150.5),
        ("potassium chloride", 34.9, 35.1),
        ("baking soda", 9.9, 10.1),
        ("disodium phosphate", 8.4, 8.6),
        ("calcium chloride", 138.0, 170.0),
        ("calcium lactate", 12.0, 14.0),
        ("glucose monohydrate", 130.0, 145.0),
        ("lactose", 23.0, 24.0),
        ("trisodium citrate", 118.0, 124.0),
    ],
)
def test_saturation_is_said_above_the_high_end_and_not_below(name, below, above):
    assert "saturated" not in codes(assess_of(WATER, f"{below} g {name}"))
    found = assess_of(WATER, f"{above} g {name}")
    assert finding_of(found, "saturated").lines == (2,)


def test_the_salt_of_a_brine_is_said_with_amounts_and_the_water_it_takes():
    told = finding_of(assess_of("200 g distilled water", "200 g salt"), "saturated")
    assert told.severity is Severity.NOTE
    assert told.title == "More salt than the water dissolves"
    assert "100 g of water hold about 36 g; this batch has 100 g per 100 g." in told.text
    assert "20 °C (68 °F)" in told.text
    # 200 g of table salt, 0.2 % of it moisture, at 35.9 g in 100 g.
    assert told.action.startswith("Use about 556 g of water")


@pytest.mark.parametrize(
    ("salty", "plain"),
    [
        ((WATER, "100 g salt"), (WATER, "20 g salt")),
        ((WATER, "215 g sugar"), (WATER, "200 g sugar")),
        (("50 g water", "300 g citric acid"), ("50 g water", "30 g citric acid")),
    ],
)
def test_figures_of_a_saturated_batch_are_outside_the_model(salty, plain):
    for key in ("water_activity", "boiling", "freezing"):
        assert OUTSIDE in flags_of(assess_of(*salty), key)
        assert OUTSIDE not in flags_of(assess_of(*plain), key)


def test_sugars_of_one_kind_add_up_and_the_sugar_of_milk_and_fruit_does_not_count():
    each = (WATER, "110 g sugar", "110 g powdered sugar")
    assert finding_of(assess_of(*each), "saturated").lines == (2, 3)
    assert "saturated" not in codes(assess_of("500 g whole milk", "300 g honey", "500 g dates"))


def test_crystal_water_is_water_and_the_wide_range_is_told_in_full():
    told = finding_of(assess_of(WATER, "200 g trisodium citrate"), "saturated")
    # 175.5 g of dry citrate in 124.5 g of water.
    assert "42 to 93 g; this batch has 141 g per 100 g, without crystal water" in told.text


def test_steam_leaves_the_sugar_in_less_water():
    lines = ("200 g distilled water", "300 g sugar")
    assert "saturated" not in codes(assess_of(*lines))
    assert "saturated" in codes(assess_of(*lines, evaporation_pct=20))


def test_a_dry_mix_and_an_empty_formula_have_no_water_to_saturate():
    assert "saturated" not in codes(assess_of("100 g salt", "5 g sugar"))
    assert "saturated" not in codes(assess_of())


def test_candidates_are_judged_one_by_one():
    materials = tuple(food_materials()[key] for key in ("water_pure", "salt_table"))
    masses = np.array([[100.0, 10.0], [100.0, 100.0], [0.0, 50.0]])
    (salt,) = loads(masses, materials, masses[:, 0], masses[:, 0] > 0)
    assert salt.is_too_much.tolist() == [False, True, False]
    assert salt.grams[1] == pytest.approx(99.8)
    assert salt.grams[2] == 0.0


@pytest.mark.parametrize(("key", "grams"), [("baking_soda", 96), ("disodium_phosphate", 77)])
def test_doses_know_the_solubility_of_the_table(key, grams):
    assert 1000 * additive_find(key).dissolves == pytest.approx(grams, rel=0.003)


def test_a_hydrate_as_sold_dissolves_more_because_it_brings_water():
    citrate = food_materials()["sodium_citrate_dihydrate"]
    most = dissolves_at_most(citrate)
    water = 1.0 + most * 0.12251
    assert most * 0.87749 / water == pytest.approx(solubilities()["trisodium_citrate"].value / 100)
    assert dissolves_at_most(food_materials()["lactic_acid"]) is None
