"""The food tables hold together: ranges, names, portions and acidity."""

import pytest
from builders_tables import TABLES, lines, sidecar

from setwell.tables.foods import NUTRIENTS, food_aliases, food_rows, nutrient_spread
from setwell.tables.solution import chemicals

FOODS = TABLES / "foods"


@pytest.mark.parametrize("name", ["density", "ph", "buffering", "dissolved"])
def test_every_value_has_a_range_and_the_unit_of_its_table(name):
    unit = sidecar(FOODS / f"{name}.csv")["columns"]["value"]["unit"]
    for row in lines(FOODS / f"{name}.csv"):
        assert row["low"], row
        assert row["high"], row
        assert row["unit"] == unit


def test_there_are_enough_foods_and_chemicals():
    rows = food_rows().values()
    assert len(rows) >= 250
    assert sum(food.source == "iupac_2021" for food in rows) >= 45


def test_blank_cells_stay_unknown():
    assert food_rows()["nutritional_yeast"].nutrients["protein_g"] is None
    assert food_rows()["juice_lemon"].nutrients["organic_acid_g"] is None
    blanks = sum(row[n.key] == "" for row in lines(FOODS / "composition.csv") for n in NUTRIENTS)
    unknown = sum(v is None for food in food_rows().values() for v in food.nutrients.values())
    assert blanks == unknown > 0


def test_there_are_enough_names_and_each_leads_to_a_food():
    assert len(food_aliases()) >= 700
    for word, alias in food_aliases().items():
        assert alias.key in food_rows(), word
        assert word == " ".join(word.lower().split())


OWNED_BY_AGENTS = {"gelatin_powder", "agar_dried", "cornstarch", "potato_starch"}


def test_every_food_is_reached_by_its_own_name_and_with_the_commas_turned():
    for food in food_rows().values():
        if food.key in OWNED_BY_AGENTS:
            continue
        name = food.name.lower()
        assert food_aliases()[name].key == food.key
    assert food_aliases()["milk, skim"].key == food_aliases()["skim milk"].key == "milk_skim"


def test_names_of_texture_agents_are_left_to_the_agents():
    taken = {"gelatin", "gelatine", "agar", "agar-agar", "cornstarch", "corn starch", "cornflour"}
    taken |= {"potato starch", "tapioca", "tapioca starch"}
    assert taken.isdisjoint(food_aliases())
    assert OWNED_BY_AGENTS.isdisjoint(alias.key for alias in food_aliases().values())


@pytest.mark.parametrize(
    ("word", "key"),
    [
        ("milk", "milk_whole"),
        ("oat milk", "oat_milk"),
        ("passion fruit pulp", "passion_fruit"),
        ("caster sugar", "sucrose"),
        ("double cream", "cream_heavy"),
        ("sodium citrate", "sodium_citrate_dihydrate"),
        ("kcl", "potassium_chloride"),
        ("calcium lactate", "calcium_lactate_pentahydrate"),
        ("egg yolk", "egg_yolk"),
        ("bicarbonate of soda", "baking_soda"),
    ],
)
def test_kitchen_words_lead_to_the_expected_food(word, key):
    assert food_aliases()[word].key == key


def test_a_word_that_needs_guessing_says_what_was_assumed():
    assert "3.25 %" in food_aliases()["milk"].assumption
    assert "heavy cream" in food_aliases()["cream"].assumption
    assert food_aliases()["whole milk"].assumption == ""


def test_every_counted_food_has_a_default_piece():
    for food in food_rows().values():
        measures = {p.measure: p.grams for p in food.portions}
        pieces = {m: g for m, g in measures.items() if m.startswith("each:")}
        if pieces:
            assert measures["each"] in pieces.values(), food.key
    assert {p.measure: p.grams for p in food_rows()["egg_whole"].portions}["each"] == 50


def test_liquid_measures_agree_with_the_density():
    milliliters = {"cup": 236.588, "tbsp": 14.7868, "tsp": 4.92892, "fl_oz": 29.5735}
    for food in food_rows().values():
        for portion in food.portions:
            if food.density and food.density.kind == "liquid" and portion.measure in milliliters:
                implied = portion.grams / milliliters[portion.measure]
                assert implied == pytest.approx(food.density.value, rel=0.06), food.key


def test_every_food_with_a_ph_is_buffered_by_a_key_or_group_line():
    named = {(row["scope"], row["name"]) for row in lines(FOODS / "buffering.csv")}
    for food in food_rows().values():
        if food.ph:
            assert named & {("key", food.key), ("group", food.group)}, food.key


def test_foods_without_ph_hold_no_water_or_have_no_figures():
    for food in food_rows().values():
        known = chemicals().keys() | {"nutritional_yeast", "potato_starch"}
        if food.ph is None and food.key not in known:
            assert food.nutrients["fat_g"] > 90, food.key


def test_pure_chemicals_have_no_ph_and_no_buffering_of_their_own():
    for name in ("ph", "buffering"):
        keys = {row["key"] if name == "ph" else row["name"] for row in lines(FOODS / f"{name}.csv")}
        assert keys & chemicals().keys() == set(), name


def test_a_pure_dry_food_with_a_ph_says_in_what_it_was_dissolved():
    notes = {row["key"]: row["note"] for row in lines(FOODS / "ph.csv")}
    dry = [f for f in food_rows().values() if f.group == "chemical" and f.key in notes]
    assert "xylitol" in {food.key for food in dry}
    for food in dry:
        assert "dissolved in" in notes[food.key] or food.key == "water_pure", food.key


def test_the_spread_of_pure_chemicals_is_small():
    assert nutrient_spread("pure")["sodium_mg"] == 0.01
    assert nutrient_spread("natural")["sodium_mg"] == 0.15
    assert set(nutrient_spread("natural")) == {n.key for n in NUTRIENTS}
