"""Allergens, diets and enzymes of the foods: err on the safe side."""

from setwell.tables.foods import food_rows

ALLERGENS = {
    *("milk", "egg", "fish", "crustacean", "mollusk", "tree_nut", "wheat", "peanut", "soy"),
    *("sesame", "celery", "mustard", "sulfite", "lupin", "gluten"),
}


def tags(key: str) -> set[tuple[str, str, str]]:
    return {(t.allergen, t.kind, t.certainty) for t in food_rows()[key].allergens}


def test_allergen_names_are_the_known_ones():
    found = {t.allergen for food in food_rows().values() for t in food.allergens}
    assert found <= ALLERGENS


def test_wheat_always_brings_gluten_or_a_check():
    for food in food_rows().values():
        names = {t.allergen for t in food.allergens}
        if any(t.allergen == "wheat" and t.certainty == "contains" for t in food.allergens):
            assert "gluten" in names, food.key


def test_tree_nuts_name_their_species_when_contained():
    for food in food_rows().values():
        for tag in food.allergens:
            if tag.allergen == "tree_nut" and tag.certainty == "contains":
                assert tag.kind, food.key


def test_a_few_foods_carry_the_expected_tags():
    assert ("milk", "", "contains") in tags("cream_heavy")
    assert tags("soy_sauce") >= {("soy", "", "contains"), ("gluten", "wheat", "contains")}
    assert ("gluten", "oat", "contains") in tags("oat_milk")
    assert ("sulfite", "", "contains") in tags("wine_white")
    assert ("wheat", "", "check") in tags("tamari")
    assert tags("coconut_milk_canned") == set()


def test_dairy_cheese_and_egg_carry_their_allergen_and_are_not_vegan():
    expected = {"dairy": "milk", "cheese": "milk", "egg": "egg"}
    for food in food_rows().values():
        if food.group in expected:
            assert (expected[food.group], "", "contains") in tags(food.key), food.key
            assert food.vegan == "no", food.key


def test_a_milk_egg_or_fish_tag_rules_out_a_plain_vegan_yes():
    for food in food_rows().values():
        for tag in food.allergens:
            if tag.allergen in {"milk", "egg", "fish", "mollusk"}:
                assert food.vegan != "yes", food.key


def test_every_no_or_check_gives_its_reason():
    for food in food_rows().values():
        assert bool(food.diet_reason) == (food.vegan != "yes" or food.vegetarian != "yes"), food.key
        if food.vegan == "yes":
            assert food.vegetarian == "yes", food.key


def test_raw_fruits_that_digest_gelatin_are_marked():
    for key in ("pineapple", "papaya", "kiwi", "fig", "ginger_root"):
        enzyme = food_rows()[key].enzyme
        assert (enzyme.strength, enzyme.certainty) == ("strong", "contains")
    assert food_rows()["juice_pineapple"].enzyme.certainty == "check"
    assert food_rows()["strawberry"].enzyme is None
