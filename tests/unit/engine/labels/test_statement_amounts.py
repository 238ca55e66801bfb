"""Allergens, sulfites, gluten, alcohol, diets and additives of a statement."""

import pytest

from setwell.domain.brief import Market
from setwell.domain.formula import Diet, formula_make
from setwell.domain.pantry import OwnFood, Pantry
from setwell.engine.assess import bench_build
from setwell.engine.assessment import Severity
from setwell.engine.catalog import catalog_build
from setwell.engine.labels.additive_rules import additive_doses, additive_findings, category_of
from setwell.engine.labels.statement_eu import eu_statement
from setwell.engine.labels.statement_results import LabelChoices
from setwell.engine.labels.statement_us import us_statement
from setwell.engine.verdict import Verdict
from setwell.provenance import Grade


def bench_of(ingredients, *, pantry=None, **fields):
    formula = formula_make(title="Test batch", ingredients=ingredients, **fields)
    return bench_build(formula, catalog=catalog_build(pantry) if pantry else None)


def judged(ingredients, market, category):
    found = additive_findings(bench_of(ingredients), market, category)
    return {number: one for one in found for number in one.e_numbers}


def emphasized(statement):
    return [run.text for run in statement.runs if run.is_emphasized]


def test_an_allergen_the_name_does_not_tell_is_added_in_brackets():
    statement = eu_statement(bench_of("600 g cream cheese\n400 g skim milk powder"))
    assert statement.text == "Ingredients: cream cheese (milk), skimmed milk powder."
    assert emphasized(statement) == ["milk", "milk"]


def test_fish_without_a_species_blocks_in_the_united_states_alone():
    bench = bench_of("980 g water\n20 g fish gelatin")
    us = us_statement(bench)
    assert us.contains == "Contains: fish [name the kind]."
    assert us.blocks == ("Name the kind of fish in Fish gelatin, cold-water.",)
    named = us_statement(bench, choices=LabelChoices(species={"fish": "cod"}))
    assert named.contains == "Contains: fish (cod)."
    assert named.is_final
    assert eu_statement(bench).is_final


@pytest.mark.parametrize(
    ("typed", "us", "eu"),
    [
        ("Tree nuts", "tree nuts [name the kind]", "nuts"),
        ("almonds", "almonds", "almonds"),
        ("Eggs", "eggs", "eggs"),
        ("soya", "soy", "soya"),
        ("crustacean shellfish", "crustacean shellfish [name the kind]", "crustaceans"),
        ("wheat", "wheat", "wheat"),
        ("mango", "mango", ""),
    ],
)
def test_allergens_of_an_own_food_are_read_as_the_kitchen_types_them(typed, us, eu):
    pantry = Pantry(foods=(OwnFood(name="House paste", allergens=(typed,)),))
    bench = bench_of("900 g water\n100 g house paste", pantry=pantry)
    assert us_statement(bench).contains == f"Contains: {us}."
    assert emphasized(eu_statement(bench)) == ([eu] if eu else [])


@pytest.mark.parametrize(
    "named", ["beef gelatin", "gelatin, pork", "pork gelatin, 200 bloom", "gelatin (bovine)"]
)
def test_beef_and_pork_gelatin_are_no_allergens(named):
    found = us_statement(bench_of(f"980 g water\n20 g {named}"))
    assert found.allergens == ()
    assert "fish" not in " ".join(one.text for one in found.questions)


@pytest.mark.parametrize("named", ["gelatin", "gold gelatin sheets", "gelatin powder, 200 bloom"])
def test_gelatin_of_no_named_animal_may_be_fish(named):
    found = us_statement(bench_of(f"980 g water\n20 g {named}"))
    (told,) = found.allergens
    assert (told.key, told.certainty) == ("fish", "check")
    assert "as in “pork gelatin”" in found.questions[0].text


def test_pine_nuts_are_listed_in_the_united_states_only():
    bench = bench_of("500 g sugar\n500 g pine nuts")
    assert us_statement(bench).contains == "Contains: pine nuts."
    assert emphasized(eu_statement(bench)) == []


def test_a_doubtful_allergen_is_a_question_until_it_is_cleared():
    bench = bench_of("995 g water\n5 g xanthan gum")
    before = us_statement(bench)
    (question,) = before.questions
    assert question.key == "allergen:agent:xanthan:gluten"
    assert before.contains == ""
    after = us_statement(bench, choices=LabelChoices(cleared=frozenset({question.key})))
    assert after.questions == ()
    assert after.allergens == ()
    assert after.is_final


def test_gelatin_alone_stays_below_the_limit_of_sulfites():
    # 2 % gelatin of at most 50 mg/kg: 1 mg/kg.
    found = us_statement(bench_of("980 g water\n20 g gelatin")).sulfites
    assert found.amount.high == pytest.approx(1.0)
    assert found.reaches is Verdict.NO
    assert not found.is_declared


def test_sulfites_add_up_over_several_sources():
    # 2 % gelatin, 1 % pectin and 0.4 % dried apricots: 1 + 0.5 + 8 mg/kg, then 0.8 % apricots.
    below = bench_of("966 g water\n20 g gelatin\n10 g LM pectin\n4 g dried apricots")
    above = bench_of("962 g water\n20 g gelatin\n10 g LM pectin\n8 g dried apricots")
    assert us_statement(below).sulfites.amount.high == pytest.approx(9.5)
    assert not us_statement(below).sulfites.is_declared
    assert us_statement(above).sulfites.amount.high == pytest.approx(17.5)
    assert us_statement(above).sulfites.reaches is Verdict.CANNOT_TELL
    assert us_statement(above).sulfites.is_declared


def test_exactly_ten_is_declared_in_the_united_states_and_not_in_the_eu():
    # 0.5 % of dried apricots at 2000 mg/kg: 10 mg/kg at most.
    bench = bench_of("995 g water\n5 g dried apricots")
    assert us_statement(bench).sulfites.is_declared
    assert not eu_statement(bench).sulfites.is_declared


def test_declared_sulfites_stand_beside_their_main_sources():
    bench = bench_of("800 g water\n150 g white wine\n30 g gelatin\n20 g sugar")
    assert "white wine (sulfites)" in us_statement(bench).text
    eu = eu_statement(bench)
    assert "white wine (sulphites)" in eu.text
    assert "sugar," not in eu.text.partition("sulphites")[0]
    assert "sulphites" in emphasized(eu)
    assert "sulphites" in {one.name for one in eu.allergens}


def test_sulfites_without_a_figure_are_unknown_and_declared():
    pantry = Pantry(foods=(OwnFood(name="House wine", allergens=("Sulphites",)),))
    found = us_statement(bench_of("999 g water\n1 g house wine", pantry=pantry)).sulfites
    assert found.unknown_in == ("House wine",)
    assert found.amount.high is None
    assert found.is_declared


def test_certificates_may_clear_sulfites_that_cannot_be_told():
    bench = bench_of("900 g water\n100 g white wine")
    found = us_statement(bench, choices=LabelChoices(cleared=frozenset({"sulfites"})))
    assert not found.sulfites.is_declared
    assert "certificates" in found.sulfites.text
    assert "sulfites" not in found.text


def test_flour_is_far_from_gluten_free_and_sugar_says_nothing():
    flour = us_statement(bench_of("900 g milk\n100 g wheat flour")).gluten
    assert flour.amount.high is not None
    assert flour.amount.high > 5000
    assert "Do not call it gluten-free" in flour.text
    sugar = us_statement(bench_of("900 g milk\n100 g sugar")).gluten
    assert sugar.reaches is Verdict.NO
    assert "test it" in sugar.text


def test_gluten_is_told_in_plain_figures():
    # 6 % of malt syrup with 6.2 % protein: 0.4 %, all of it gluten at worst.
    found = eu_statement(bench_of("935 g milk\n65 g malt syrup")).gluten
    assert "barley malt extract (0 to 4,030 mg/kg)" in found.text


def test_a_protein_rounded_to_zero_does_not_prove_a_food_free_of_gluten():
    found = eu_statement(bench_of("990 g water\n10 g Worcestershire sauce")).gluten
    assert found.reaches is Verdict.CANNOT_TELL
    assert found.amount.high is None
    assert "Do not call it gluten-free" in found.text


def test_a_sure_grain_or_nut_hides_no_doubt_about_another():
    def told(lines):
        return {one.name: one.certainty for one in eu_statement(bench_of(lines)).allergens}

    assert told("900 g water\n100 g beer") == {"barley": "contains", "wheat": "check"}
    nuts = told("900 g almond milk\n100 g dark chocolate")
    assert (nuts["almonds"], nuts["nuts"]) == ("contains", "check")
    starch = told("950 g water\n50 g modified starch")
    assert starch == {"cereals containing gluten": "check"}


def test_alcohol_is_silent_without_any():
    assert us_statement(bench_of("900 g milk")).alcohol is None


def test_drinks_and_sweets_are_told_apart_in_the_united_states():
    bench = bench_of("900 g water\n100 g rum")
    sweets = us_statement(bench, category="confectionery").alcohol
    other = us_statement(bench, category="set_dessert").alcohol
    assert sweets is not None
    assert other is not None
    assert (sweets.severity, other.severity) == (Severity.STOP, Severity.NOTE)


def test_diets_name_the_breaking_line():
    statement = us_statement(bench_of("900 g water\n20 g gelatin\n80 g sugar", diets=[Diet.VEGAN]))
    vegan = next(one for one in statement.diets if one.diet == "vegan")
    assert vegan.verdict is Verdict.NO
    assert vegan.lines == (2,)
    assert "label_diet_words" in {one.code for one in statement.findings}


def test_phosphates_count_as_phosphorus_pentoxide():
    # Na2HPO4 holds 50 % P2O5 (70.97 of 141.96); at most 3000 mg/kg in desserts.
    below = judged("994.1 g milk\n5.9 g disodium phosphate", Market.EU, "set_dessert")["E339"]
    above = judged("993.9 g milk\n6.1 g disodium phosphate", Market.EU, "set_dessert")["E339"]
    assert below.dose_mg_kg == pytest.approx(5900)
    assert (below.allowed, above.allowed) == (Verdict.YES, Verdict.NO)
    assert "2,950 mg/kg" in below.text


def test_gums_of_jam_count_together():
    text = "{} g sugar\n6 g guar gum\n{} g xanthan gum"
    assert judged(text.format(991, 3), Market.EU, "jam")["E412"].allowed is Verdict.YES
    found = judged(text.format(989, 5), Market.EU, "jam")
    assert found["E412"].allowed is Verdict.NO
    assert found["E412"] is found["E415"]


def test_a_starch_of_unknown_number_counts_once_for_babies():
    # 4 % is below the 5 % that modified starches may reach together; E1442 is not on the list.
    found = judged("960 g milk\n40 g modified starch", Market.EU, "baby_food")
    assert found["E1414"].dose_mg_kg == pytest.approx(40_000)
    assert found["E1414"].allowed is Verdict.YES
    assert found["E1442"].allowed is Verdict.NO


def test_a_rule_with_a_condition_cannot_be_told():
    found = judged("995 g milk\n5 g LM pectin", Market.EU, "follow_on")["E440"]
    assert found.allowed is Verdict.CANNOT_TELL
    assert "acidified" in found.action


def test_closed_lists_refuse_what_they_do_not_name():
    assert judged("995 g sugar\n5 g agar", Market.EU, "extra_jam")["E406"].allowed is Verdict.NO
    acid = judged("995 g sugar\n5 g citric acid", Market.EU, "extra_jam")["E330"]
    assert acid.allowed is Verdict.CANNOT_TELL


def test_food_for_infants_is_never_waved_through_in_the_united_states():
    for category in ("infant_formula", "follow_on", "baby_food", "baby_dessert"):
        found = judged("995 g milk\n5 g guar gum\n1 g iota carrageenan", Market.US, category)
        assert {one.allowed for one in found.values()} == {Verdict.CANNOT_TELL}


def test_recalled_rules_are_marked_unverified():
    recalled = judged("995 g sugar\n5 g agar", Market.US, "baked")["E406"]
    read = judged("995 g sugar\n5 g guar gum", Market.US, "baked")["E412"]
    assert recalled.grade is Grade.UNVERIFIED
    assert read.grade is Grade.STANDARD


def test_an_unknown_kind_of_food_is_something_else():
    assert category_of("moon cheese").key == "other"
    found = judged("995 g water\n5 g guar gum", Market.EU, "moon cheese")["E412"]
    assert found.allowed is Verdict.CANNOT_TELL


def test_doses_are_of_the_finished_food_and_count_parts_too():
    inner = formula_make(title="Set base", ingredients="90 g water\n10 g agar")
    formula = formula_make(title="Outer", ingredients="100 g Set base\n900 g milk\n2 g agar",
                           evaporation_pct=20)  # fmt: skip
    bench = bench_build(formula, parts={"Set base": inner})
    dose = additive_doses(bench)["E406"]
    assert dose.mg_kg == pytest.approx(1e6 * 12 / (0.8 * 1002))
    assert dose.lines == (1, 3)


@pytest.mark.parametrize(
    "category", ["infant_formula", "follow_on", "baby_food", "baby_dessert", "extra_jam"]
)
def test_a_limit_for_all_foods_lets_no_konjac_into_closed_lists(category):
    # Regulation (EC) No 1333/2008, Annex II, part E: 13.1 and 04.2.5.1 list no E 425.
    found = judged("995 g milk\n5 g konjac gum", Market.EU, category)["E425"]
    assert (found.allowed, found.severity) == (Verdict.NO, Severity.STOP)


@pytest.mark.parametrize("category", ["jam", "chocolate", "alcoholic"])
def test_a_limit_for_all_foods_is_no_permission_without_group_i(category):
    found = judged("995 g milk\n5 g konjac gum", Market.EU, category)["E425"]
    assert found.allowed is Verdict.CANNOT_TELL
    assert "group I" in found.action
    assert found.limit_mg_kg == 10_000
