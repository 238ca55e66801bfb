"""From the name on a line to a material."""

import pytest
from builders_engine import assess_of, formula_of

from setwell.engine.assess import bench_build
from setwell.engine.catalog import catalog_build
from setwell.engine.names import name_find, name_forms, name_normalize, names_nearest
from setwell.tables.agents import agent_rows
from setwell.tables.foods import food_rows

CATALOG = catalog_build()


@pytest.mark.parametrize(
    ("written", "normal"),
    [
        ("  Whole   MILK ", "whole milk"),
        ("crème fraîche", "crème fraîche"),
        ("sugar, fine", "sugar fine"),
        ("half-and-half", "half-and-half"),
    ],
)
def test_names_are_normalized(written, normal):
    assert name_normalize(written) == normal


def test_the_literal_form_comes_first():
    forms = list(name_forms("Chopped fresh strawberries"))
    assert forms[0] == "chopped fresh strawberries"
    assert "strawberry" in forms


def test_nothing_is_found_for_nothing():
    assert name_find("", {"salt": "salt"}) is None
    assert CATALOG.find("") is None


@pytest.mark.parametrize(
    ("written", "key"),
    [
        ("whole milk", "milk_whole"),
        ("Whole Milk", "milk_whole"),
        ("cold whole milk", "milk_whole"),
        ("egg yolks", "egg_yolk"),
        ("lemon juice", "juice_lemon"),
        ("kappa carrageenan", "agent:kappa_carrageenan"),
        ("kappa", "agent:kappa_carrageenan"),
        ("agar-agar", "agent:agar"),
    ],
)
def test_kitchen_names_lead_to_materials(written, key):
    assert CATALOG.find(written).material.key == key


@pytest.mark.parametrize("material", CATALOG.materials.values(), ids=lambda m: m.key)
def test_every_material_is_found_by_its_own_name(material):
    found = CATALOG.find(material.name).material
    # Starches are foods and texture agents; the name alone means the agent.
    assert found is material or (found.agent and found.name == material.name)


def test_an_assumed_food_says_so():
    assert CATALOG.find("sugar").assumption


def test_nearest_names_are_near_and_few():
    near = CATALOG.nearest("kapa caragenan")
    assert CATALOG.find(near[0]).material.key == "agent:kappa_carrageenan"
    assert len(near) <= 5
    assert CATALOG.nearest("kapa caragenan") is near


def test_a_very_long_name_is_no_trouble():
    assert len(names_nearest("x" * 100_000, ["salt", "sugar"])) == 0
    assert CATALOG.find("milk " * 5000) is None


@pytest.mark.parametrize("key", sorted(agent_rows()))
def test_every_agent_is_found_by_its_own_name(key):
    # Some names go on after a comma, which elsewhere begins a note.
    found = assess_of("500 g water", f"3 g {agent_rows()[key].name}")
    assert [agent.key for agent in found.agents] == [key]


def test_a_note_after_an_agent_stays_a_note():
    found = assess_of("500 g water", "3 g agar, in the cold water", "8 g gelatin, bloomed")
    assert [agent.key for agent in found.agents] == ["agar", "gelatin"]


@pytest.mark.parametrize(
    ("written", "key"),
    [
        ("Chocolate, white", "chocolate_white"),
        ("milk, skim, cold", "milk_skim"),
        ("Cheese, goat, soft", "cheese_goat_soft"),
        ("Vinegar, balsamic", "vinegar_balsamic"),
        ("Wine, white", "wine_white"),
        ("whole milk, cold", "milk_whole"),
        ("sugar, fine", "sucrose"),
        ("milk, soy", "soymilk_unsweet_fortified"),
        ("milk, nonfat", "milk_skim"),
        ("oil, sesame", "oil_sesame"),
        ("flour, almond", "almond_flour"),
        ("chocolate, milk", "chocolate_milk"),
        ("milk, warmed to body heat", "milk_whole"),
        ("butter, melted", "butter_unsalted"),
        ("egg, white", "egg_white"),
        ("egg, yolk, cold", "egg_yolk"),
        ("eggs (yolks only)", "egg_yolk"),
        ("eggs, whites", "egg_white"),
        ("egg, whites and yolks", "egg_whole"),
        ("lemon, juice", "juice_lemon"),
        ("lemon (juice and zest)", "lemon"),
        ("coconut (milk)", "coconut_milk_canned"),
        ("oat, milk", "oat_milk"),
        ("sodium polyphosphate (NaPO3)n", "sodium_hexametaphosphate"),
    ],
)
def test_a_name_of_the_tables_with_a_comma_is_that_food_and_no_other(written, key):
    # White chocolate read as dark would lose its milk.
    (material,) = bench_build(formula_of(f"100 g {written}")).plan.materials
    assert material.table_key == key


def test_every_listed_name_with_commas_or_brackets_is_read_as_its_own_food():
    rows = {key: row.name for key, row in food_rows().items() if {",", "("} & set(row.name)}
    assert len(rows) > 100
    misread = []
    for key, name in rows.items():
        read = [m.table_key for m in bench_build(formula_of(f"100 g {name}")).plan.materials]
        if read != [key]:
            misread.append((name, read))
    assert misread == []
