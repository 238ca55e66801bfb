"""The kitchen's own things as documents."""

import datetime as dt

import pytest
from pydantic import ValidationError

from setwell.domain.document import document_error, validation_sentence
from setwell.domain.pantry import (
    Kitchen,
    Lot,
    Mold,
    OwnAgent,
    OwnFood,
    Pantry,
    Price,
    Vessel,
)


def problem(make, **fields: object) -> ValidationError:
    with pytest.raises(ValidationError) as caught:
        make(**fields)
    return caught.value


@pytest.mark.parametrize(
    ("make", "fields", "field"),
    [
        (OwnFood, {"name": ""}, "name"),
        (OwnFood, {"name": "A", "nutrients": {"fat_g": 101}}, "nutrients"),
        (OwnFood, {"name": "A", "nutrients": {"fat_g": -1}}, "nutrients"),
        (OwnFood, {"name": "A", "nutrients": {"fat_g": float("inf")}}, "nutrients"),
        (OwnFood, {"name": "A", "ph": 15}, "ph"),
        (OwnFood, {"name": "A", "density_g_ml": 0}, "density_g_ml"),
        (OwnFood, {"name": "A", "vegan": "maybe"}, "vegan"),
        (OwnFood, {"name": "A", "price_per_kg": -1}, "price_per_kg"),
        (OwnAgent, {"name": "A"}, "based_on"),
        (OwnAgent, {"name": "A", "based_on": "agar", "strength_factor": 0}, "strength_factor"),
        (OwnAgent, {"name": "A", "based_on": "gelatin", "bloom": 10}, "bloom"),
        (Lot, {"agent": "agar", "lot_code": ""}, "lot_code"),
        (Lot, {"agent": "agar", "lot_code": "1", "best_before": "soon"}, "best_before"),
        (Lot, {"agent": "agar", "lot_code": "1", "strength_factor": 11}, "strength_factor"),
        (Price, {"material": "salt", "pack_price": 3, "pack_g": 0}, "pack_g"),
        (Price, {"material": "salt", "price_per_kg": -1}, "price_per_kg"),
        (Mold, {"name": "Cup", "volume_ml": 0}, "volume_ml"),
        (Vessel, {"name": "Pot"}, "volume_ml"),
        (Kitchen, {"scale_readability_g": 0}, "scale_readability_g"),
        (Kitchen, {"color": "red"}, "color"),
    ],
)
def test_a_wrong_entry_names_its_field(make, fields, field):
    error = problem(make, **fields)
    assert document_error(error).field == field
    assert validation_sentence(error).startswith(field)


def test_more_than_the_whole_food_says_how_much():
    said = validation_sentence(problem(OwnFood, name="A", nutrients={"fat_g": 120}))
    assert "fat_g is 120 g in 100 g of food; at most 100 is possible" in said


def test_milligrams_may_be_more_than_a_hundred():
    assert OwnFood(name="A", nutrients={"sodium_mg": 900}).nutrients == {"sodium_mg": 900}


def test_nutrients_are_kept_in_order():
    food = OwnFood(name="A", nutrients={"water_g": 50, "fat_g": 10})
    assert list(food.nutrients) == ["fat_g", "water_g"]


def test_an_entry_survives_its_round_trip():
    lot = Lot(agent="agar", lot_code="A-1", best_before=dt.date(2027, 1, 31), in_use=True)
    assert Lot.model_validate_json(lot.canonical_json()) == lot
    assert Lot.model_validate_json(lot.canonical_json()).content_hash == lot.content_hash


def test_an_empty_pantry_is_a_kitchen_with_defaults():
    pantry = Pantry()
    assert pantry.kitchen.currency == "USD"
    assert (pantry.foods, pantry.agents, pantry.lots) == ((), (), ())
