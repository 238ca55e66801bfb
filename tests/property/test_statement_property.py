"""Laws of ingredient statements that hold for any batch."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from setwell import catalog_build, formula_make
from setwell.domain.brief import Market
from setwell.engine.assess import bench_build
from setwell.engine.diets import allergens
from setwell.engine.labels.additive_rules import additive_doses, additive_findings
from setwell.engine.labels.allergen_statement import label_allergen, listed_in
from setwell.engine.labels.statement_eu import eu_statement
from setwell.engine.labels.statement_items import added_water, flat
from setwell.engine.labels.statement_results import LabelChoices
from setwell.engine.labels.statement_us import us_statement
from setwell.engine.verdict import Verdict
from setwell.tables.labels.food_categories import food_categories

CATALOG = catalog_build()
FOODS = tuple(
    material.name.replace(",", " ")
    for material in CATALOG.materials.values()
    # What stands in brackets on a line is a note.
    if "(" not in material.name and CATALOG.find(material.name.replace(",", " ")) is not None
)
AGENTS = ("kappa carrageenan", "agar", "gelatin", "xanthan gum", "guar gum", "konjac gum",
          "xanthan and locust bean gum blend", "modified starch", "LM pectin")  # fmt: skip
FEW = settings(max_examples=40, deadline=None, derandomize=True)

lines = st.lists(
    st.tuples(st.integers(1, 900), st.sampled_from(FOODS + AGENTS)),
    min_size=1, max_size=8, unique_by=lambda line: line[1],
)  # fmt: skip
categories = st.sampled_from(sorted(food_categories()))


def bench_of(chosen, *, steam=0.0, part=()):
    inner = formula_make(title="Inner part", ingredients=text_of(part)) if part else None
    text = text_of(chosen) + ("\n100 g Inner part" if part else "")
    formula = formula_make(title="Any batch", ingredients=text, evaporation_pct=steam)
    return bench_build(formula, parts={"Inner part": inner} if inner else {})


def text_of(chosen):
    return "\n".join(f"{grams} g {name}" for grams, name in chosen)


def statements(bench, **choices):
    made = LabelChoices(**choices)
    return us_statement(bench, choices=made), eu_statement(bench, choices=made)


def test_the_properties_speak_of_many_foods():
    assert len(FOODS) > 300


@FEW
@given(lines, st.integers(0, 40), lines)
def test_names_go_by_falling_weight(chosen, steam, part):
    for statement in statements(bench_of(chosen, steam=steam, part=part)):
        listed = [*statement.ingredients, *statement.minor]
        assert listed == sorted(listed, key=lambda one: -one.grams)
        for item in flat(listed):
            inner = [one.grams for one in item.parts]
            assert inner == sorted(inner, reverse=True)


@FEW
@given(lines, st.integers(0, 40), st.sampled_from([0.5, 1.0, 1.5, 2.0]))
def test_nothing_behind_the_phrase_exceeds_what_it_states(chosen, steam, stated):
    bench = bench_of(chosen, steam=steam)
    statement = us_statement(bench, choices=LabelChoices(minor_pct=stated))
    finished = float(bench.state.composition.finished_g[0])
    total = float(bench.state.composition.ingredients_g[0])
    assert all(100 * one.grams / finished <= stated for one in statement.minor)
    # As added the share is smaller still.
    assert all(100 * one.grams / total <= stated for one in statement.minor)
    assert all(one.percent > stated for one in statement.ingredients)
    assert (f"{stated:g}% or less" in statement.text) is bool(statement.minor)


@FEW
@given(lines, lines)
def test_every_sure_allergen_is_told(chosen, part):
    bench = bench_of(chosen, part=part)
    us, eu = statements(bench)
    for found in allergens(bench.plan):
        if found.certainty != "contains" or found.allergen == "sulfite":
            continue
        for market, statement in ((Market.US, us), (Market.EU, eu)):
            named = label_allergen(market, found.allergen, found.kind)
            if named is None or not named.is_listed:
                continue
            assert named.name in {one.name for one in statement.allergens}
            if market is Market.US:
                assert named.name in statement.contains
    for material in bench.plan.materials:
        emphasized = " ".join(run.text.casefold() for run in eu.runs if run.is_emphasized)
        for named in listed_in(material, Market.EU):
            words = (*named.words, named.name)
            assert any(word.casefold() in emphasized for word in words), (material.name, named)


@FEW
@given(lines)
def test_every_doubtful_allergen_is_a_question_that_keeps_it_from_being_final(chosen):
    bench = bench_of(chosen)
    for statement in statements(bench):
        asked = " ".join(one.key for one in statement.questions)
        sure = {one.key for one in statement.allergens if one.certainty == "contains"}
        for material in bench.plan.materials:
            for tag in material.allergens:
                named = label_allergen(statement.market, tag.allergen, tag.kind)
                is_open = tag.certainty == "check" and tag.allergen != "sulfite"
                if is_open and named is not None and named.is_listed and tag.allergen not in sure:
                    key = "gluten" if tag.allergen == "wheat" else tag.allergen
                    assert f"allergen:{material.key}:{key}" in asked
                    assert not statement.is_final


@FEW
@given(lines)
def test_clearing_every_question_never_takes_a_sure_allergen_away(chosen):
    bench = bench_of(chosen)
    for make in (us_statement, eu_statement):
        before = make(bench)
        keys = frozenset(one.key for one in before.questions) | {"sulfites"}
        after = make(bench, choices=LabelChoices(cleared=keys))
        sure = {one.name for one in before.allergens if one.certainty == "contains"}
        assert sure <= {one.name for one in after.allergens}
        assert after.questions == ()


@FEW
@given(st.permutations(["400 g milk", "300 g sugar", "200 g water", "90 g cream", "9 g salt"]))
def test_the_order_of_the_lines_changes_nothing(order):
    formula = formula_make(title="Any batch", ingredients="\n".join(order))
    for statement in statements(bench_build(formula)):
        told = [one.name for one in (*statement.ingredients, *statement.minor)]
        assert told[0].endswith("milk")
        assert told[1:] in (
            ["sugar", "water", "cream", "salt"], ["sugar", "water", "cream (milk)", "salt"]
        )  # fmt: skip


@FEW
@given(lines, st.integers(2, 50))
def test_a_larger_batch_has_the_same_statement(chosen, factor):
    larger = [(grams * factor, name) for grams, name in chosen]
    for one, other in zip(statements(bench_of(chosen)), statements(bench_of(larger)), strict=True):
        assert one.text == other.text
        assert one.blocks == other.blocks


@FEW
@given(lines, st.integers(0, 60), lines)
def test_weights_as_added_add_up_to_the_batch(chosen, steam, part):
    bench = bench_of(chosen, steam=steam, part=part)
    statement = us_statement(bench)
    listed = sum(one.grams for one in (*statement.ingredients, *statement.minor))
    assert listed == pytest.approx(float(bench.state.line_masses.sum()))


@FEW
@given(st.floats(1, 5000), st.floats(0, 5000))
def test_added_water_is_never_negative_and_never_more_than_the_food(finished, others):
    water = added_water(finished_g=finished, others_g=others)
    assert 0 <= water.grams <= finished
    assert water.is_listed is (water.percent > 5)


@FEW
@given(lines, categories, st.sampled_from([Market.US, Market.EU]))
def test_every_additive_is_judged_and_a_refusal_blocks(chosen, category, market):
    bench = bench_of(chosen)
    found = additive_findings(bench, market, category)
    assert {number for one in found for number in one.e_numbers} == set(additive_doses(bench))
    make = us_statement if market is Market.US else eu_statement
    refused = [one for one in found if one.allowed is Verdict.NO]
    assert all(one.text in make(bench, category=category).blocks for one in refused)
    assert all(one.rule and one.evidence for one in found)


@FEW
@given(st.floats(0.01, 30), st.floats(1.01, 3), categories)
def test_more_of_an_additive_is_never_better(grams, factor, category):
    rank = {Verdict.YES: 0, Verdict.CANNOT_TELL: 1, Verdict.NO: 2}

    def worst(amount):
        text = f"{1000 - amount:.6f} g milk\n{amount:.6f} g guar gum"
        bench = bench_build(formula_make(title="Any batch", ingredients=text))
        return [
            max(rank[one.allowed] for one in additive_findings(bench, market, category))
            for market in (Market.US, Market.EU)
        ]

    for less, more in zip(worst(grams), worst(grams * factor), strict=True):
        assert less <= more
