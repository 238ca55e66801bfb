"""Loaded rules, cautions and bands."""

from itertools import pairwise

import pytest
from builders_tables import damage, tables_copied

from setwell.errors import TableError
from setwell.tables.agents import agent_rows
from setwell.tables.rules import (
    cautions,
    firmness_bands,
    food_code_rules,
    mini_cup_bans,
    swallowing_bands,
    tcs_cells,
    viscosity_landmarks,
)


@pytest.fixture
def folder(tmp_path):
    return tables_copied("rules", tmp_path)


@pytest.mark.parametrize("key", food_code_rules())
def test_printed_fahrenheit_is_the_celsius_limit_within_rounding(key):
    rule = food_code_rules()[key]
    for celsius, fahrenheit in (
        (rule.temperature_c, rule.temperature_f),
        (rule.start_temperature_c, rule.start_temperature_f),
    ):
        assert (celsius is None) == (fahrenheit is None)
        if celsius is not None:
            assert (fahrenheit - 32) / 1.8 == pytest.approx(celsius, abs=0.6)


def test_cooling_counts_two_hours_and_then_six_in_all():
    rules = food_code_rules()
    first, total = rules["cooling_first_stage"], rules["cooling_total"]
    assert (first.start_temperature_c, first.temperature_c, first.time_s) == (57, 21, 7200)
    assert (total.start_temperature_c, total.temperature_c, total.time_s) == (57, 5, 21600)


def test_held_egg_dishes_trade_temperature_for_time():
    rules = food_code_rules()
    keys = ("eggs_held_63", "eggs_held_66", "eggs_held", "eggs_held_70")
    steps = [(rules[key].temperature_c, rules[key].time_s) for key in keys]
    assert steps == [(63, 180), (66, 60), (68, 17), (70, 0)]


@pytest.mark.parametrize("table", ["A", "B"])
@pytest.mark.parametrize("water_activity", [0.5, 0.879, 0.88, 0.9, 0.91, 0.92, 0.95, 0.951, 1.0])
@pytest.mark.parametrize("ph", [2.0, 4.19, 4.2, 4.6, 4.61, 5.0, 5.01, 5.6, 5.61, 9.0])
def test_exactly_one_cell_holds_every_food(table, water_activity, ph):
    found = [c for c in tcs_cells() if c.table == table and c.contains(water_activity, ph)]
    assert len(found) == 1


@pytest.mark.parametrize(
    ("table", "water_activity", "ph", "needs_assessment"),
    [
        ("A", 0.99, 4.6, False),
        ("A", 0.99, 4.61, True),
        ("A", 0.94, 5.6, False),
        ("A", 0.92, 7.0, False),
        ("B", 0.99, 4.19, False),
        ("B", 0.99, 4.2, True),
        ("B", 0.92, 4.6, False),
        ("B", 0.90, 5.0, False),
        ("B", 0.90, 5.01, True),
        ("B", 0.879, 7.0, False),
    ],
)
def test_edges_of_the_control_tables(table, water_activity, ph, needs_assessment):
    (cell,) = [c for c in tcs_cells() if c.table == table and c.contains(water_activity, ph)]
    assert cell.needs_assessment is needs_assessment


def test_every_caution_says_who_decides():
    for caution in cautions().values():
        assert caution.text.endswith(("decides.", "decide."))
        assert len(caution.text) < 400


def test_cautions_cover_every_hazard():
    assert {caution.topic for caution in cautions().values()} == {
        "acid and shelf life",
        "alcohol",
        "allergens",
        "choking",
        "cold holding",
        "cooling",
        "food grade",
        "hot holding",
        "infants",
        "raw or undercooked egg",
        "swallowing disorders",
    }


def test_a_caution_that_does_not_defer_is_refused(folder):
    damage(folder / "cautions.csv", "Local liquor and food law decides.", "Enjoy.")
    with pytest.raises(TableError, match="does not say who decides"):
        cautions(folder)


def test_bans_name_known_agents_and_agree_with_the_agent_tables():
    agents, bans = agent_rows(), mini_cup_bans()
    assert set(bans) <= set(agents)
    told = {k for k, row in agents.items() if "eu_mini_cup_ban" in row.regulation}
    banned = {k for k in told if agents[k].regulation["eu_mini_cup_ban"].text == "yes"}
    assert banned == set(bans)


def test_a_blend_is_banned_like_its_parts():
    bans = mini_cup_bans()
    for key, row in agent_rows().items():
        scopes = {bans[part].scope for part in row.parts if part in bans}
        if "all jelly confectionery" in scopes:
            assert bans[key].scope == "all jelly confectionery"
        elif scopes:
            assert key in bans


def test_konjac_is_capped_at_ten_grams_per_kilogram():
    assert mini_cup_bans()["konjac"].limit == 10
    assert mini_cup_bans()["agar"].limit is None


@pytest.mark.parametrize(
    ("modulus", "key"),
    [
        (0, "weak"),
        (0.05, "spoonable"),
        (0.5, "soft"),
        (1, "medium"),
        (19.9, "firm"),
        (500, "very_firm"),
    ],
)
def test_every_modulus_has_one_word(modulus, key):
    assert [band.key for band in firmness_bands() if band.contains(modulus)] == [key]


def test_a_gap_between_firmness_bands_is_refused(folder):
    damage(folder / "firmness_bands.csv", "1,5,kPa", "1,4,kPa")
    with pytest.raises(TableError, match="a gap between medium and firm"):
        firmness_bands(folder)


@pytest.mark.parametrize("scale", ["iddsi", "ndd"])
def test_swallowing_levels_rise_without_overlap(scale):
    levels = [band for band in swallowing_bands() if band.scale == scale]
    assert [int(band.level) for band in levels] == sorted(int(band.level) for band in levels)
    for below, above in pairwise(levels):
        assert below.high <= above.low


def test_landmarks_run_from_thin_to_thick():
    marks = viscosity_landmarks()
    assert [mark.viscosity for mark in marks] == sorted(mark.viscosity for mark in marks)
    assert marks[0].name == "water"


@pytest.mark.parametrize(
    ("file", "old", "new", "load", "told"),
    [
        ("food_code.csv", "cooling_total", "cooling_first_stage", food_code_rules, "twice"),
        ("mini_cups.csv", "all jelly confectionery", "desserts", mini_cup_bans, "scope is"),
        ("tcs.csv", "no control needed", "fine", tcs_cells, "verdict is “fine”"),
        ("swallowing_bands.csv", "iddsi,0,thin,volume left,0,", "iddsi,0,thin,volume left,9,",
         swallowing_bands, "low is above high"),
    ],
)  # fmt: skip
def test_damaged_rule_tables_are_refused(folder, file, old, new, load, told):
    damage(folder / file, old, new)
    with pytest.raises(TableError, match=told):
        load(folder)
