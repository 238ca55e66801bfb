"""The recipe of a published card fits the vocabulary of schema.org."""

import json

import pytest
from builders_published import LINES, published_of
from schema_org_terms import faults_of, graph_of

from setwell.documents.published_card import PublishedPhoto
from setwell.documents.published_recipe import duration_iso, recipe_jsonld, recipe_text

PHOTO = PublishedPhoto(1, b"jpeg")
CASES = {
    "plain": {},
    "with address and photo": {
        "address": "https://kitchen.example/cards/milk-blocks/", "photos": (PHOTO,),
    },
    "without portions": {"portions": None},
    "other letters": {"title": "كريمة الورد 🌹"},
}  # fmt: skip


@pytest.mark.parametrize("case", CASES, ids=str)
def test_recipe_uses_only_terms_of_schema_org_with_expected_types(case):
    assert faults_of(recipe_jsonld(published_of(**CASES[case]))) == []


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"cookingTime": "PT5M"}, "has no"),
        ({"cookTime": "5 minutes"}, "cookTime"),
        ({"datePublished": "yesterday"}, "datePublished"),
        ({"suitableForDiet": ["vegan"]}, "suitableForDiet"),
        ({"nutrition": {"@type": "NutritionInformation", "calories": "many"}}, "calories"),
        ({"author": "somebody"}, "author"),
        ({"recipeIngredient": []}, "without recipeIngredient"),
        ({"ingredients": ["milk"]}, "superseded"),
    ],
)
def test_the_check_itself_finds_what_is_wrong(change, said):
    found = faults_of({**recipe_jsonld(published_of()), **change})
    assert any(said in fault for fault in found), found


def test_every_line_and_step_is_in_the_recipe_with_weights_beside_percents():
    recipe = recipe_jsonld(published_of())
    assert recipe["recipeIngredient"][:2] == list(LINES[:2])
    assert recipe["recipeIngredient"][2].startswith("0.8% kappa carrageenan (")
    assert recipe["recipeIngredient"][2].endswith(" g)")
    assert [step["position"] for step in recipe["recipeInstructions"]] == [1, 2, 3]
    assert recipe["recipeYield"][0] == "4"


def test_nutrition_is_that_of_a_portion_and_says_it_is_a_draft():
    told = recipe_jsonld(published_of())["nutrition"]
    # 500 g milk at 61 kcal and 60 g sugar at 387 to 401 kcal per 100 g, in four portions.
    assert float(told["calories"].split()[0]) == pytest.approx((305 + 60 * 3.94) / 4, rel=0.03)
    assert "qualified person" in told["description"]


def test_an_unknown_nutrient_is_left_out_and_never_zero():
    published = published_of()
    assert "Trans fat" in published.nutrition.left_out
    assert "transFatContent" not in recipe_jsonld(published)["nutrition"]


def test_a_line_that_could_not_be_read_leaves_no_nutrition():
    assert "nutrition" not in recipe_jsonld(published_of("500 g whole milk", "some moonstone"))


def test_only_diets_that_fit_by_every_ingredient_are_told_and_never_gluten_free():
    found = recipe_jsonld(published_of("500 g water", "4 g kappa carrageenan"))
    assert found["suitableForDiet"] == [
        "https://schema.org/VeganDiet", "https://schema.org/VegetarianDiet",
    ]  # fmt: skip
    assert recipe_jsonld(published_of())["suitableForDiet"] == ["https://schema.org/VegetarianDiet"]


def test_allergens_are_in_the_description():
    assert "milk" in recipe_jsonld(published_of())["description"]


def test_text_inside_a_page_cannot_end_its_script():
    text = recipe_text(published_of(title="</script><b>"))
    assert "<" not in text
    assert json.loads(text)["name"] == "</script><b>"


def test_the_graph_is_that_of_one_recipe():
    graph = graph_of(recipe_jsonld(published_of()))
    assert len(graph) > 25


def test_times_are_iso_durations_rounded_up_to_five_minutes():
    recipe = recipe_jsonld(published_of())
    assert (recipe["prepTime"], recipe["cookTime"], recipe["totalTime"]) == (
        "PT10M", "PT15M", "PT3H10M",
    )  # fmt: skip
    assert duration_iso(60) == "PT1H"
