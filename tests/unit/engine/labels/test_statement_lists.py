"""Lists of ingredients: names, brackets, water, wording of the kitchen's own."""

import pytest

from setwell.domain.brief import Market
from setwell.domain.formula import formula_make
from setwell.domain.pantry import OwnAgent, OwnFood, Pantry
from setwell.engine.assess import bench_build
from setwell.engine.catalog import catalog_build
from setwell.engine.labels.label_names import label_name, plain_name
from setwell.engine.labels.statement_eu import eu_statement
from setwell.engine.labels.statement_parts import Part, parts_of
from setwell.engine.labels.statement_results import DRAFT, LabelChoices
from setwell.engine.labels.statement_us import us_statement
from setwell.errors import InputError

SETS = "Whisk the powder into the cold milk\nHeat to 85 °C, hold 2 min, stirring\nChill to 4 °C"


def bench_of(ingredients, *, title="Test batch", parts=None, pantry=None, **fields):
    formula = formula_make(title=title, ingredients=ingredients, **fields)
    catalog = catalog_build(pantry) if pantry else None
    return bench_build(formula, parts=parts, catalog=catalog)


def test_two_lines_of_one_thing_are_one_ingredient():
    statement = us_statement(bench_of("100 g sugar\n150 g water\n120 g sugar\n50 g tap water"))
    assert statement.text == "Ingredients: sugar, water."
    assert statement.ingredients[0].lines == (1, 3)
    assert statement.ingredients[0].grams == pytest.approx(220)


def test_two_carrageenans_are_told_once_with_both_lines():
    statement = eu_statement(bench_of("990 g milk\n6 g kappa carrageenan\n4 g iota carrageenan"))
    (item,) = [one for one in statement.ingredients if one.name == "carrageenan"]
    assert item.lines == (2, 3)
    assert item.e_numbers == ("E407",)


def test_what_a_batch_sets_is_a_gelling_agent():
    bench = bench_of("990 g milk\n10 g kappa carrageenan", steps=SETS)
    assert "gelling agent: carrageenan" in eu_statement(bench).text
    thin = bench_of("999.9 g milk\n0.1 g kappa carrageenan", steps=SETS)
    assert "thickener: carrageenan" in eu_statement(thin).text


def test_a_blend_of_agents_is_told_by_its_parts():
    bench = bench_of("990 g water\n10 g xanthan and locust bean gum blend")
    assert [part.agent for part in parts_of(bench)] == ["", "xanthan", "locust_bean_gum"]
    assert us_statement(bench).text == (
        "Ingredients: water, contains 2% or less of: xanthan gum, locust bean gum."
    )


def test_a_formula_used_as_an_ingredient_keeps_its_list_in_brackets():
    inner = formula_make(title="Caramel", ingredients="100 g sugar\n60 g heavy cream\n40 g water",
                         evaporation_pct=10)  # fmt: skip
    bench = bench_of("500 g milk\n180 g Caramel", parts={"Caramel": inner})
    us = us_statement(bench)
    assert us.text == "Ingredients: milk, caramel (sugar, cream, water)."
    # 180 g of caramel are the whole inner batch of 200 g less 20 g of steam.
    assert [part.grams for part in us.ingredients[1].parts] == pytest.approx([100, 60, 40])
    eu = eu_statement(bench)
    assert eu.text == "Ingredients: whole milk, caramel (sugar, cream (milk), water)."
    # The steam is water: 20 g of it are left in the caramel.
    assert [part.grams for part in eu.ingredients[1].parts] == pytest.approx([100, 60, 20])


def test_a_part_inside_a_part_is_bracketed_twice():
    core = formula_make(title="Core", ingredients="50 g hazelnuts\n50 g honey")
    shell = formula_make(title="Shell", ingredients="100 g Core\n20 g milk", parts={})
    bench = bench_of("200 g sugar\n60 g Shell", parts={"Core": core, "Shell": shell})
    found = us_statement(bench)
    assert bench.plan.problems == ()
    assert "shell (core (" in found.text
    assert found.contains == "Contains: hazelnuts, milk."


def test_the_kitchens_own_wording_comes_first_and_answers_for_the_parts():
    bench = bench_of("900 g water\n100 g soy sauce")
    before = us_statement(bench)
    assert [one.key for one in before.questions] == ["parts:soy_sauce"]
    assert not before.is_final
    choices = LabelChoices(wordings={"soy_sauce": "soy sauce (water, soybeans,  wheat, salt)"})
    after = us_statement(bench, choices=choices)
    assert after.text == "Ingredients: water, soy sauce (water, soybeans, wheat, salt)."
    assert after.is_final
    eu = eu_statement(bench, choices=choices)
    assert [run.text for run in eu.runs if run.is_emphasized] == ["soy", "soybeans", "wheat"]


def test_an_own_food_keeps_its_name_and_is_marked():
    pantry = Pantry(foods=(OwnFood(name="Natural vanilla flavor", allergens=("milk",)),))
    statement = us_statement(bench_of("990 g milk\n10 g natural vanilla flavor", pantry=pantry))
    assert "Natural vanilla flavor" in statement.text
    codes = {one.code for one in statement.findings}
    assert {"label_wording", "label_flavor_color"} <= codes


def test_an_own_food_without_allergens_is_a_question():
    pantry = Pantry(foods=(OwnFood(name="Quince paste"),))
    bench = bench_of("500 g milk\n500 g quince paste", pantry=pantry)
    (question,) = us_statement(bench).questions
    assert question.lines == (2,)
    assert "confirm" in question.text
    cleared = us_statement(bench, choices=LabelChoices(cleared=frozenset({question.key})))
    assert cleared.is_final


def test_an_own_agent_is_told_by_what_it_is_with_a_note_on_carriers():
    pantry = Pantry(agents=(OwnAgent(name="Sea set 20", based_on="kappa carrageenan"),))
    statement = us_statement(bench_of("990 g milk\n10 g sea set 20", pantry=pantry))
    assert "carrageenan" in statement.text
    assert "label_carriers" in {one.code for one in statement.findings}


@pytest.mark.parametrize(
    ("typed", "us"),
    [
        ("potassium carrageenan", "potassium carrageenan"),
        ("Sodium kappa carrageenan", "sodium carrageenan"),
        ("kappa carrageenan", "carrageenan"),
    ],
)
def test_a_salt_of_carrageenan_is_named_only_when_typed_so(typed, us):
    bench = bench_of("990 g milk\n10 g kappa carrageenan")
    material = parts_of(bench)[1].material
    part = Part(typed, 10.0, (2,), material, "kappa_carrageenan")
    assert label_name(part, Market.US, {}).text == us
    assert label_name(part, Market.EU, {}).text == "carrageenan"


def test_every_material_has_a_name_without_the_commas_of_a_data_bank():
    for material in catalog_build().materials.values():
        for market in (Market.US, Market.EU):
            name = plain_name(material, market)
            is_blend = material.agent is not None and " and " in name
            assert name
            assert is_blend or "," not in name.split(" (")[0] or "calcium" in name


def test_the_share_stands_beside_a_name_on_demand():
    bench = bench_of("700 g heavy cream\n300 g raspberries", title="Raspberry cream")
    plain = eu_statement(bench)
    assert [one.name for one in plain.quid] == ["cream (milk)", "raspberries"]
    assert "%" not in plain.text
    choices = LabelChoices(shares_shown=frozenset({"raspberries", "cream (milk)"}))
    shown = eu_statement(bench, choices=choices)
    assert shown.text == "Ingredients: cream 70 % (milk), raspberries 30 %."


@pytest.mark.parametrize(
    ("title", "line"),
    [("Malted slice", "malt syrup"), ("Minted cup", "mint"), ("Lemony set cup", "lemon juice"),
     ("Salted squares", "salt"), ("Creamy set cup", "heavy cream")],
)  # fmt: skip
def test_an_ingredient_is_named_by_a_form_of_its_word_too(title, line):
    found = eu_statement(bench_of(f"900 g water\n100 g {line}", title=title)).quid
    assert [one.lines for one in found] == [(2,)]
    assert eu_statement(bench_of(f"900 g water\n100 g {line}", title="Pink cup")).quid == ()


@pytest.mark.parametrize("word", ["raspberry", "Raspberries on the lid"])
def test_what_pictures_dwell_on_is_a_candidate(word):
    bench = bench_of("700 g milk\n300 g raspberries", title="Pink cup")
    assert eu_statement(bench).quid == ()
    found = eu_statement(bench, choices=LabelChoices(emphasized=(word,))).quid
    assert [one.name for one in found] == ["raspberries"]


def test_a_little_that_is_named_may_only_flavor():
    bench = bench_of("990 g milk\n10 g vanilla extract", title="Vanilla milk")
    found = {one.name: one.reason for one in eu_statement(bench).quid}
    assert "may only flavor" in found["vanilla extract"]
    assert "flavor" not in found["whole milk"]


def test_no_phrase_lists_all_by_weight():
    bench = bench_of("990 g milk\n10 g salt")
    statement = us_statement(bench, choices=LabelChoices(minor_pct=None))
    assert statement.text == "Ingredients: milk, salt."
    assert statement.minor_phrase == ""


def test_a_phrase_the_rule_does_not_know_is_refused_at_its_field():
    with pytest.raises(InputError, match=r"Contains 3% or less of.*Choose one of 0\.5, 1, 1\.5, 2"):
        us_statement(bench_of("990 g milk\n10 g salt"), choices=LabelChoices(minor_pct=3.0))


@pytest.mark.parametrize("make", [us_statement, eu_statement])
def test_an_empty_formula_has_an_empty_list_that_is_not_final(make):
    statement = make(bench_of(""))
    assert statement.text == ""
    assert statement.blocks == ("There is no ingredient with a weight.",)
    assert statement.draft_note == DRAFT


@pytest.mark.parametrize("make", [us_statement, eu_statement])
def test_a_line_that_is_not_read_keeps_it_from_being_final(make):
    statement = make(bench_of("900 g milk\n10 g frobnicate"))
    assert not statement.is_final
    assert any("Line 2" in block and "frobnicate" in block for block in statement.blocks)


def test_the_may_contain_note_is_printed_as_typed_and_marked_as_the_kitchens_own():
    choices = LabelChoices(may_contain="  May contain   peanuts ")
    statement = us_statement(bench_of("900 g milk"), choices=choices)
    assert statement.may_contain == "May contain peanuts"
    assert "label_may_contain" in {one.code for one in statement.findings}
    assert "peanuts" not in statement.contains
