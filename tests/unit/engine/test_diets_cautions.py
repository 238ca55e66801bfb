"""Allergens, diets and the safety cautions that go with a formula."""

import pytest
from builders_engine import assess_of

from setwell.engine.assessment import Verdict

WATER = "500 g water"
MILK = "500 g whole milk"


def verdict_of(diet: str, *lines: str) -> Verdict:
    (found,) = [result for result in assess_of(*lines).diets if result.diet == diet]
    return found.verdict


def cautions_of(*lines: str, **fields: object) -> set[str]:
    return {caution.code for caution in assess_of(*lines, **fields).cautions}


@pytest.mark.parametrize(
    ("diet", "yes", "no"),
    [
        ("vegan", (WATER, "2 g agar"), (WATER, "6 g gelatin")),
        ("vegan", (WATER, "100 g almonds"), (WATER, "10 g honey")),
        ("vegetarian", (MILK, "2 g agar"), (MILK, "6 g gelatin")),
        ("no alcohol", (WATER, "100 g orange juice"), (WATER, "100 g white wine")),
        ("no gluten", (WATER, "30 g almonds"), (WATER, "30 g wheat flour")),
    ],
)
def test_diet_is_kept_or_broken(diet, yes, no):
    assert verdict_of(diet, *yes) is Verdict.YES
    assert verdict_of(diet, *no) is Verdict.NO


def test_a_doubtful_food_leaves_the_diet_open():
    (vegan,) = [d for d in assess_of(WATER, "50 g sugar").diets if d.diet == "vegan"]
    assert vegan.verdict is Verdict.CANNOT_TELL
    assert vegan.lines == (2,)
    assert "check the label" in vegan.reason


def test_an_unread_line_leaves_every_diet_open():
    found = assess_of(WATER, "10 g moon dust")
    assert {diet.verdict for diet in found.diets} == {Verdict.CANNOT_TELL}


def test_an_empty_formula_fits_no_diet_for_certain():
    assert {diet.verdict for diet in assess_of().diets} == {Verdict.CANNOT_TELL}


def test_a_trace_of_alcohol_asks():
    assert verdict_of("no alcohol", "1000 g water", "1 g vodka") is Verdict.CANNOT_TELL


def test_allergens_name_their_lines_and_what_is_certain_first():
    found = assess_of("100 g oat milk", MILK, "20 g almonds", "50 g white wine").allergens
    assert [tag.certainty for tag in found] == sorted(
        (tag.certainty for tag in found), key=lambda word: word != "contains"
    )
    by_name = {(tag.allergen, tag.certainty): tag.lines for tag in found}
    # Wine may be fined with milk or egg: both stand under one heading with what is certain.
    assert by_name["milk", "contains"] == (2, 4)
    assert by_name["egg", "check"] == (4,)
    assert by_name["tree_nut", "contains"] == (3,)


@pytest.mark.parametrize(
    ("code", "with_it", "without"),
    [
        ("raw_egg", (MILK, "2 egg yolks"), (MILK,)),
        ("consumer_advisory", (MILK, "2 egg yolks"), (MILK,)),
        ("allergens", (MILK,), (WATER,)),
        ("cooling", (MILK,), (WATER, "5 g salt")),
        ("cold_holding", (MILK,), (WATER, "5 g salt")),
        ("alcohol", (WATER, "50 g vodka"), (WATER,)),
        ("acid_claim", (WATER, "50 g lemon juice"), (MILK,)),
        ("food_grade", (WATER, "3 g agar"), (WATER,)),
        ("infants", (WATER, "3 g agar"), (WATER,)),
        ("swallowing_disorders", (WATER, "3 g xanthan"), (WATER, "3 g agar")),
        ("konjac", (WATER, "3 g konjac"), (WATER, "3 g agar")),
    ],
)
def test_caution_goes_with_the_ingredients(code, with_it, without):
    assert code in cautions_of(*with_it)
    assert code not in cautions_of(*without)


def test_hot_holding_goes_with_a_warm_plate():
    assert "hot_holding" in cautions_of(MILK, serving_temperature_c=60)
    assert "hot_holding" in cautions_of(MILK, steps="Serve at 60 °C")
    assert "hot_holding" not in cautions_of(MILK, serving_temperature_c=6)


@pytest.mark.parametrize(("volume", "is_mini"), [(20, True), (45, True), (46, False), (150, False)])
def test_mini_cups_are_told_up_to_a_bite(volume, is_mini):
    molds = {"count": 10, "volume_ml": volume}
    for agent in ("kappa carrageenan", "konjac", "agar"):
        told = cautions_of(MILK, f"2 g {agent}", molds=molds)
        assert ("mini_cup" in told) == is_mini


def test_gelatin_is_not_banned_from_mini_cups_but_can_still_choke():
    molds = {"count": 10, "volume_ml": 30}
    told = cautions_of(WATER, "12 g gelatin", molds=molds)
    assert "choking_shape" in told
    assert "mini_cup" not in told


def test_a_large_mold_is_no_choking_shape():
    large = {"count": 4, "volume_ml": 200}
    assert "choking_shape" not in cautions_of(WATER, "3 g agar", molds=large)


def test_an_empty_formula_needs_no_caution():
    assert cautions_of() == set()


def test_every_caution_says_where_it_comes_from():
    found = assess_of(MILK, "2 egg yolks", "3 g konjac", "60 g vodka", "60 g lemon juice")
    assert len(found.cautions) >= 10
    for caution in found.cautions:
        assert caution.title
        assert caution.text
        assert caution.evidence
