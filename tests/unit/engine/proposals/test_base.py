"""The base of a brief: lines, a saved formula or a composition, and what cannot be one."""

import pytest

from setwell.domain.brief import brief_make
from setwell.domain.formula import formula_make
from setwell.domain.pantry import Pantry
from setwell.engine.assess import assess
from setwell.engine.catalog import catalog_build
from setwell.engine.proposals.base import base_read
from setwell.errors import InputError

CATALOG = catalog_build()


def read(**fields):
    return base_read(brief_make(title="Test", **fields), catalog=CATALOG)


def assessed(base):
    formula = formula_make(title="Base", ingredients="\n".join(base.lines))
    return assess(formula, catalog=base.catalog)


def test_lines_are_weighed_and_their_late_acid_and_dry_sugar_found():
    base = read(base="900 g water\n80 g sugar\n20 g lemon juice")
    assert base.grams == pytest.approx(1000.0)
    assert base.late_acids == ("lemon juice",)
    assert base.carrier == "sugar"
    assert base.own_food is None


def test_juice_that_is_the_base_itself_is_no_late_acid():
    assert read(base="1000 g orange juice").late_acids == ()


def test_a_pinch_of_sugar_carries_nothing():
    assert read(base="1000 g water\n5 g sugar").carrier == ""


def test_agents_among_the_lines_are_left_out_and_said():
    base = read(base="1000 g milk\n5 g agar")
    assert base.lines == ("1000 g milk",)
    assert "agar" in base.remarks[0]


def test_a_composition_becomes_a_food_with_exactly_what_was_told():
    base = read(composition={"sugar_g": 12, "fat_g": 2, "salt_g": 0.5, "calcium_mg": 40, "ph": 3.5})
    found = assessed(base)
    per_100g = {n.key: n.per_100g.value for n in found.nutrients}
    assert per_100g["sugars_g"] == pytest.approx(12.0)
    assert per_100g["fat_g"] == pytest.approx(2.0)
    assert per_100g["calcium_mg"] == pytest.approx(40.0)
    assert per_100g["sodium_mg"] == pytest.approx(0.5 * 22.990 / 58.44 * 1000.0, rel=1e-3)
    assert per_100g["water_g"] == pytest.approx(100 - 12 - 2 - 0.5 - 0.04)
    assert found.figure("ph").estimate.value == pytest.approx(3.5, abs=0.01)
    assert base.lines == ("1000 g base",)
    assert base.own_food.ph == 3.5


def test_milk_protein_makes_a_milk_and_other_protein_does_not():
    milk = read(composition={"milk_protein_g": 3.4, "sugar_g": 5})
    pea = read(composition={"protein_g": 3.4, "sugar_g": 5})
    assert [a.allergen for a in assessed(milk).allergens] == ["milk"]
    assert assessed(pea).allergens == ()
    # Skim milk has 122 mg calcium with 3.37 g protein (USDA SR28, NDB 01085).
    calcium = next(n for n in assessed(milk).nutrients if n.key == "calcium_mg")
    assert calcium.per_100g.value == pytest.approx(122 * 3.4 / 3.37, rel=1e-6)
    assert "calcium" in milk.remarks[0]


def test_both_proteins_together_keep_only_the_milk_part_as_milk():
    base = read(composition={"milk_protein_g": 3.4, "protein_g": 1.0, "sugar_g": 15})
    found = assessed(base)
    per_100g = {n.key: n.per_100g.value for n in found.nutrients}
    assert per_100g["protein_g"] == pytest.approx(4.4, rel=1e-3)
    assert per_100g["sugars_g"] == pytest.approx(15.0, rel=1e-3)
    assert base.lines[1].endswith("skim milk powder")
    powder = float(base.lines[1].split()[0])
    assert powder * 0.3616 == pytest.approx(34.0, rel=0.005)


def test_a_saved_own_food_gives_the_same_base_again():
    told = {"name": "plum base", "sugar_g": 14, "ph": 3.4}
    first = read(composition=told)
    kitchen = catalog_build(Pantry(foods=(first.own_food,)))
    again = base_read(brief_make(title="Test", composition=told), catalog=kitchen)
    assert again.own_food == first.own_food
    sweeter = {**told, "sugar_g": 20}
    other = base_read(brief_make(title="Test", composition=sweeter), catalog=kitchen)
    assert other.own_food.name == "plum base no 2"


def test_a_base_named_like_a_table_food_does_not_take_its_place():
    base = read(composition={"name": "water", "sugar_g": 30})
    assert base.own_food.name != "water"
    assert base.catalog.find("water").material.key == CATALOG.find("water").material.key


def test_a_composition_over_100_g_is_refused_with_its_amounts():
    with pytest.raises(InputError, match=r"90 g sugar, 20 g fat add up to 110 g") as caught:
        read(composition={"sugar_g": 90, "fat_g": 20})
    assert caught.value.field == "composition"


@pytest.mark.parametrize(
    ("fields", "field", "words"),
    [
        ({}, "base", "no base"),
        ({"base": "  \n "}, "base", "no base"),
        ({"base": "a bit of blah"}, "base", "cannot be read"),
        ({"base": "500 g sugar"}, "base", "0 % of this base is water"),
        ({"base": "10 g agar"}, "base", "without its agents"),
        ({"base": "# for later"}, "base", "no ingredient line"),
        ({"base_formula": "Nowhere"}, "base_formula", "no saved formula"),
        ({"composition": {"sugar_g": 95}}, "composition", "5 % of this base"),
        ({"composition": {"name": "500 g"}}, "composition", "kitchen line"),
    ],
)
def test_a_base_that_is_none_is_refused_at_its_field(fields, field, words):
    with pytest.raises(InputError, match=words) as caught:
        read(**fields)
    assert caught.value.field == field


def test_a_saved_formula_that_cannot_be_read_is_refused_at_its_field():
    origin = formula_make(title="Odd", ingredients="900 g water\nblah")
    brief = brief_make(title="Test", base_formula="Odd")
    with pytest.raises(InputError) as caught:
        base_read(brief, catalog=CATALOG, origin=origin)
    assert caught.value.field == "base_formula"


def test_a_base_too_small_for_any_scale_is_refused_at_its_field():
    with pytest.raises(InputError, match=r"0\.001 g") as caught:
        read(base="0.001 g water")
    assert caught.value.field == "base"


def test_milk_protein_that_leaves_no_room_is_refused_at_the_composition():
    with pytest.raises(InputError, match="no room") as caught:
        read(composition={"milk_protein_g": 30, "protein_g": 20})
    assert caught.value.field == "composition"


def test_honey_is_no_acid_that_goes_in_late():
    base = read(base="800 g water\n60 g honey\n40 g lemon juice")
    assert base.late_acids == ("lemon juice",)
