"""Labels of real formulas: what is asked, what is refused, and the draft that comes out."""

import pytest

from setwell.domain.brief import Market
from setwell.domain.formula import formula_make
from setwell.services import formulas
from setwell.services.labels import (
    LabelAsk,
    PanelForm,
    Stage,
    ask_first,
    ask_make,
    category_choices,
    label_get,
    label_pdf,
    label_text,
    market_choices,
    reference_choices,
)

pytestmark = pytest.mark.django_db

LINES = "700 g whole milk\n60 g sugar\n4 g kappa carrageenan"


def formula(lines: str = LINES, **fields):
    fields.setdefault("steps", "Heat to 90 °C and hold 2 min\nChill")
    return formula_make(title="Milk blocks", ingredients=lines, **fields)


def label_of(lines: str = LINES, **fields):
    made = ask_make({"category": "set_dessert", **fields})
    assert made.problems == ()
    return label_get(formula=formula(lines), ask=made.ask)


def blocks(answer):
    return " ".join(point.title for point in answer.label.blocks)


def test_a_us_label_has_panel_list_and_allergens():
    answer = label_of(container_g=500)
    assert answer.label.market is Market.US
    assert answer.label.us.title == "Nutrition Facts"
    assert answer.label.statement.plain.startswith("Ingredients: milk")
    assert "Contains: milk." in answer.label.statement.lines
    assert answer.label.version_label == "not saved"


def test_an_eu_label_emphasizes_what_the_us_puts_in_a_line():
    answer = label_of(market="eu")
    assert answer.label.eu.lines[0].label == "Energy"
    strong = [run.text for run in answer.label.statement.runs if run.is_emphasized]
    assert any("milk" in text for text in strong)
    assert answer.label.statement.lines == ()


def test_the_us_and_the_eu_differ_in_order_of_words_not_in_weights():
    us, eu = label_of(container_g=500), label_of(market="eu")
    assert {one.weight for one in us.label.items} == {one.weight for one in eu.label.items}


def test_unknown_nutrients_keep_it_from_being_final_and_an_analysis_settles_them():
    first = label_of(container_g=500)
    unknown = [one.label for one in first.label.figures if one.unknown_in]
    assert unknown
    assert not first.label.is_final
    given = "\n".join(f"{name.lower()} 0.1" for name in unknown)
    settled = label_of(container_g=500, analyzed=given)
    assert [one.label for one in settled.label.figures if one.unknown_in] == []
    assert "no figure for" not in blocks(settled)


def test_a_kind_of_food_that_is_not_chosen_blocks():
    assert "kind of food is not chosen" in blocks(label_of(category="other"))
    assert "kind of food is not chosen" not in blocks(label_of())


def test_final_is_refused_while_something_stands_against_it():
    answer = label_of("500 g unheard-of stuff", stage="final")
    (problem,) = answer.problems
    assert problem.field == "stage"
    assert "It cannot be final yet" in problem.message
    assert label_of("500 g unheard-of stuff").problems == ()


def test_mini_cups_with_carrageenan_are_told_in_the_eu():
    answer = label_of(market="eu", category="mini_cups")
    point = answer.label.additives[0]
    assert point.severity == "stop"
    assert point.answer == "not allowed"
    assert point.rule
    assert not answer.label.is_final


def test_a_settled_question_no_longer_blocks_and_can_be_taken_back():
    lines = f"{LINES}\n20 g dark chocolate"
    first = label_of(lines, container_g=500)
    asked = [point for point in first.label.blocks if point.key]
    assert asked
    keys = [point.key for point in asked]
    second = label_of(lines, container_g=500, cleared=keys)
    assert [point.key for point in second.label.blocks if point.key] == []
    assert {point.key for point in second.label.settled} == set(keys)
    assert len(label_of(lines, container_g=500).label.blocks) > len(second.label.blocks)


def test_an_own_serving_is_told_as_open():
    answer = label_of(container_g=500, serving_g=90, measure="1 block")
    assert answer.label.us.serving_size == "1 block (90 g)"
    assert "not settled" in blocks(answer)


def test_a_portion_is_a_second_column_in_the_eu():
    answer = label_of(market="eu", serving_g=90)
    assert len(answer.label.eu.columns) == 2


def test_the_short_form_is_asked_for():
    answer = label_of("1000 g water\n10 g agar", container_g=500, form="short")
    assert answer.ask.form is PanelForm.SHORT
    assert answer.label.us.is_short == answer.panel.simplified.is_allowed


def test_a_saved_version_is_named():
    made = formulas.formula_create(formula=formula())
    detail = formulas.version_get(formula_id=made.formula_id)
    answer = label_get(formula=detail.formula, formula_id=made.formula_id, number=1, ask=LabelAsk())
    assert answer.label.version_label == "version 1"
    assert answer.label.content_hash == detail.formula.content_hash


def test_files_come_of_a_label():
    answer = label_of()
    assert label_pdf(label=answer.label).startswith(b"%PDF")
    assert "Draft, to be checked by a qualified person" in label_text(label=answer.label)


@pytest.mark.parametrize(
    ("goal", "reference"),
    [("pour", "sauce_minor"), ("spread", "dessert_topping"), ("slice", "gelatin_pudding")],
)
def test_what_it_is_eaten_as_begins_with_the_goal(goal, reference):
    assert ask_first(formula(goal=goal)).reference == reference


def test_choices_are_named():
    assert dict(market_choices()) == {"us": "United States", "eu": "European Union"}
    assert "set_dessert" in dict(category_choices())
    assert "1/2 cup (120 mL)" in dict(reference_choices())["gelatin_pudding"]


@pytest.mark.parametrize(
    ("field", "value", "said"),
    [
        ("market", "moon", "There is no market"),
        ("category", "moon cake", "There is no kind of food"),
        ("reference", "lots", "There is no reference amount"),
        ("form", "tiny", "There is no form of a panel"),
        ("stage", "sold", "There is no stage"),
        ("minor", "3", "There is no share"),
        ("serving_g", "-1", "The weight of a serving cannot be -1 g."),
        ("container_g", "nan", "The weight in one package cannot be nan g."),
        ("density", "0", "The density cannot be 0 g/mL."),
        ("piece_g", "much", "The weight of a piece cannot be much g."),
        ("may_contain", "nuts " * 100, "This has 499 characters; at most 300"),
        ("analyzed", "iron much", "has no amount from 0 on"),
        ("analyzed", "luck 3", "names nothing that a panel has"),
        ("analyzed", "iron -3", "has no amount from 0 on"),
        ("species", "cod", "has no name and colon in front"),
        ("wordings", "oat drink", "has no name and colon in front"),
    ],
)
def test_what_is_wrong_is_told_at_its_field(field, value, said):
    made = ask_make({field: value})
    (problem,) = made.problems
    assert problem.field == field
    assert said in problem.message


def test_all_that_is_wrong_is_told_at_once():
    made = ask_make({"market": "moon", "serving_g": "0", "species": "cod"})
    assert [problem.field for problem in made.problems] == ["market", "species", "serving_g"]


def test_lists_are_read_line_by_line():
    ask = ask_make(
        {
            "analyzed": "iron 0,4; vitamin d: 1.5\nTotal sugars 3".replace("Total s", "s"),
            "species": "fish: cod\ntree_nut: hazelnut",
            "emphasized": "lime, oat\nlime",
            "cleared": ["a", "b", "a"],
            "stage": "final",
        }
    ).ask
    assert ask.analyzed == (("iron", 0.4), ("vitamin_d", 1.5), ("sugars", 3.0))
    assert ask.species == (("fish", "cod"), ("tree_nut", "hazelnut"))
    assert ask.emphasized == ("lime", "oat")
    assert ask.cleared == ("a", "b")
    assert ask.stage is Stage.FINAL
