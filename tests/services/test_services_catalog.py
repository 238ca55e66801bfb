"""Foods and agents as pages show them."""

import pytest
from builders_kitchen import food_of

from setwell.domain.pantry import OwnFood
from setwell.errors import NotFoundError, UnknownNameError
from setwell.provenance import Grade
from setwell.services import pantry
from setwell.services.catalog import agent_detail, agents_chart, food_detail, foods_search
from setwell.tables.agents import agent_rows
from setwell.tables.foods import NUTRIENTS

pytestmark = pytest.mark.django_db


def test_the_closest_name_comes_first() -> None:
    assert foods_search(search="whole milk")[0].key == "milk_whole"
    assert foods_search(search="  Passion FRUIT ")[0].key == "passion_fruit"
    assert foods_search(search="oat mi")[0].key == "oat_milk"


def test_words_in_any_order_are_found() -> None:
    assert "milk_whole" in {food.key for food in foods_search(search="milk whole")}


def test_a_search_is_limited_and_may_find_nothing() -> None:
    assert len(foods_search(search="milk", limit=3)) == 3
    assert foods_search(search="milk", limit=0) == ()
    assert foods_search(search="zzzz unfindable") == ()
    assert len(foods_search(search="", limit=40)) == 40


def test_only_foods_are_found() -> None:
    found = foods_search(search="carrageenan", limit=100)
    assert {food.kind for food in found} <= {"food"}


def test_an_own_food_is_found_and_marked() -> None:
    pantry.food_save(id=None, document=food_of("Zzz pear must"))
    (found,) = foods_search(search="zzz pear")
    assert (found.is_own, found.key, found.source) == (True, "own:zzz pear must", "this_kitchen")
    detail = food_detail(key=found.key)
    known = {one.key: one.estimate for one in detail.nutrients}
    assert known["water_g"].value == 86.0
    assert known["iron_mg"] is None


def test_a_food_shows_every_nutrient_with_its_source() -> None:
    milk = food_detail(key="milk_whole")
    assert [one.key for one in milk.nutrients] == [nutrient.key for nutrient in NUTRIENTS]
    protein = next(one.estimate for one in milk.nutrients if one.key == "protein_g")
    assert protein.low < protein.value < protein.high
    assert protein.evidence[0].source == milk.summary.source
    assert milk.ph.low <= milk.ph.value <= milk.ph.high
    assert milk.ph.evidence
    assert milk.density.unit == "g/mL"
    assert milk.density.evidence
    assert [allergen.allergen for allergen in milk.allergens] == ["milk"]
    assert "whole milk" in milk.aliases


@pytest.mark.parametrize(
    ("key", "told"),
    [
        ("citric_acid", "Gives acid once dissolved"),
        ("potassium_sorbate", "Takes up acid once dissolved"),
        ("monosodium_phosphate", "makes a neutral batch more acid"),
        ("salt_table", "Brings no acid and takes up none"),
    ],
)
def test_a_pure_chemical_has_no_ph_but_tells_what_it_does(key: str, told: str) -> None:
    detail = food_detail(key=key)
    assert detail.ph is None
    assert told in detail.dissolved
    assert "entered" not in detail.dissolved


def test_any_other_food_keeps_its_ph_alone() -> None:
    detail = food_detail(key="juice_lemon")
    assert (detail.ph is None, detail.dissolved) == (False, "")


def test_a_ph_entered_for_a_chemical_is_said_not_to_be_used() -> None:
    document = OwnFood(name="Our citric acid", based_on="citric_acid", nutrients={}, ph=2.0)
    pantry.food_save(id=None, document=document)
    detail = food_detail(key="own:our citric acid")
    assert detail.ph is not None
    assert detail.dissolved.endswith("The pH entered for it is not used.")


@pytest.mark.parametrize("key", ["no_such_food", "agent:agar", ""])
def test_an_unknown_food_says_where_to_look(key: str) -> None:
    with pytest.raises(NotFoundError, match="Search the foods"):
        food_detail(key=key)


def test_the_chart_of_all_agents_has_a_cell_for_each() -> None:
    chart = agents_chart()
    assert [column.key for column in chart.columns] == list(agent_rows())
    assert all(len(row.cells) == len(chart.columns) for row in chart.rows)
    assert {"texture", "dose", "hydration_temperature", "ph_window"} <= {r.key for r in chart.rows}


def test_agents_are_named_as_on_a_formula_line_and_shown_once() -> None:
    chart = agents_chart(agents=("kappa", "Kappa carrageenan", "kappa_carrageenan", "agar"))
    assert [column.key for column in chart.columns] == ["kappa_carrageenan", "agar"]


def test_every_filled_cell_says_where_it_comes_from() -> None:
    for row in agents_chart().rows:
        for cell in row.cells:
            assert bool(cell.text) == bool(cell.evidence), row.key
            assert all(isinstance(citation.grade, Grade) for citation in cell.evidence)


def test_a_temperature_is_shown_in_both_scales() -> None:
    chart = agents_chart(agents=("kappa",))
    (cell,) = next(row for row in chart.rows if row.key == "whole_batch_temperature").cells
    assert cell.text.startswith("at least 85 °C, 185 °F")


def test_yes_and_no_are_words() -> None:
    chart = agents_chart(agents=("kappa", "lambda"))
    row = next(row for row in chart.rows if row.key == "cold_soluble")
    assert [cell.text for cell in row.cells] == ["no", "yes"]


def test_an_unknown_agent_offers_the_nearest() -> None:
    with pytest.raises(UnknownNameError, match="not in the agent table") as caught:
        agents_chart(agents=("kapa carrageenan powdr",))
    assert caught.value.nearest
    with pytest.raises(UnknownNameError):
        agent_detail(key="whole milk")


@pytest.mark.parametrize("key", list(agent_rows()))
def test_every_agent_has_a_page(key: str) -> None:
    agent = agent_detail(key=key)
    assert agent.key == key
    assert agent.aliases
    assert agent.descriptions
    assert agent.figures
    assert agent.evidence
    for fact in (*agent.descriptions, *agent.figures, *agent.regulation):
        assert fact.text
        assert fact.evidence
        assert fact.label[:1].isupper() or fact.label.startswith("pH")


def test_a_blend_names_its_parts() -> None:
    parts = agent_detail(key="kappa_konjac").parts
    assert sum(part.percent for part in parts) == pytest.approx(100.0)
    assert all(part.key in agent_rows() for part in parts)
