"""The label in words: panels in the order of the law, and what keeps it from being final."""

from dataclasses import replace

import pytest
from builders_labels import (
    EVIDENCE,
    HEAD,
    RECALLED,
    SIMPLIFIED,
    additive_make,
    eu_panel_make,
    statement_make,
    us_panel_make,
)

from setwell.documents.label import BANNER, label_build
from setwell.domain.brief import Market
from setwell.engine.assessment import Finding, Severity
from setwell.engine.labels.panel_results import DailyShare
from setwell.engine.labels.statement_results import Question, QuidCandidate, Run
from setwell.engine.verdict import Verdict

QUESTION = Question("milk:own", "Own oat base may hold milk.", (2,), EVIDENCE)


def us_label(**changes):
    return label_build(HEAD, us_panel_make(**changes), statement_make())


def eu_label(**changes):
    statement = statement_make(Market.EU)
    return label_build(HEAD, eu_panel_make(**changes), statement)


def titles(points):
    return [point.title for point in points]


def test_a_label_always_says_that_it_is_a_draft():
    for label in (us_label(), eu_label(), us_label(unknown=("iron",))):
        assert label.banner == BANNER == "Draft, to be checked by a qualified person"
    assert "stays a draft" in us_label().state


def test_the_us_panel_has_the_order_of_the_section_and_minerals_below_the_bar():
    panel = us_label().us
    assert panel.title == "Nutrition Facts"
    assert panel.servings == "2 servings per container"
    assert [line.key for line in panel.minerals] == ["vitamin_d", "calcium", "iron", "potassium"]
    assert panel.lines[0].label == "Total Fat"
    assert panel.lines[-1].label == "Protein"
    assert [line.label for line in panel.lines if line.is_strong] == [
        "Total Fat", "Cholesterol", "Sodium", "Total Carbohydrate", "Protein",
    ]  # fmt: skip
    assert panel.footnote.startswith("* ")


def test_added_sugars_carry_their_amount_in_the_name():
    line = next(line for line in us_label().us.lines if line.key == "added_sugars")
    assert line.name == "Includes 12 g Added Sugars"
    unknown = us_label(unknown=("added_sugars",)).us
    line = next(line for line in unknown.lines if line.key == "added_sugars")
    assert line.name == ""
    assert line.cells[0].amount == "unknown"


def test_two_columns_keep_every_amount_beside_its_heading():
    panel = us_label(columns=2).us
    assert panel.columns == ("Per serving", "Per container")
    assert panel.amount_per == ""
    assert all(len(line.cells) == 2 for line in (*panel.lines, panel.calories))


def test_an_unknown_amount_shows_as_unknown_without_a_share_and_blocks():
    label = us_label(unknown=("iron", "calories"))
    iron = next(line for line in label.us.minerals if line.key == "iron")
    assert iron.cells[0].is_unknown
    assert iron.cells[0].percent == ""
    assert label.us.calories.cells[0].amount == "unknown"
    assert not label.is_final
    assert label.state == "Not final: 2 points stand against it."
    figure = next(one for one in label.figures if one.label == "Iron")
    assert figure.unknown_in == ("oat drink",)
    assert figure.value.startswith("at least ")


def test_a_package_without_a_weight_blocks_the_us_label():
    label = us_label(container=None)
    assert label.us.servings == "servings per container: not given"
    assert "How many servings a package holds is not known." in titles(label.blocks)


def test_one_serving_is_not_plural():
    one = us_panel_make()
    label = us_label(container=replace(one.container, text="1"))
    assert label.us.servings == "1 serving per container"


def test_the_short_panel_keeps_what_it_must_and_says_what_is_missing():
    label = label_build(HEAD, us_panel_make(), statement_make(), is_short=True)
    assert label.us.is_short
    assert {line.key for line in label.us.lines} < set(SIMPLIFIED.kept)
    assert label.us.sentence == SIMPLIFIED.sentence
    refused = us_panel_make(simplified=replace(SIMPLIFIED, is_allowed=False))
    label = label_build(HEAD, refused, statement_make(), is_short=True)
    assert not label.us.is_short
    assert any("full panel stands here" in note for note in label.notes)


def test_the_eu_table_has_energy_in_one_line_and_the_order_of_the_annex():
    lines = eu_label().eu.lines
    assert [line.label for line in lines] == [
        "Energy", "Fat", "of which saturates", "Carbohydrate", "of which sugars", "Protein", "Salt",
    ]  # fmt: skip
    assert lines[0].cells[0].amount == "672 kJ / 161 kcal"


def test_energy_with_one_unknown_half_is_unknown():
    line = eu_label(unknown=("energy_kj", "energy_kcal")).eu.lines[0]
    assert line.cells[0].amount == "unknown"
    assert line.cells[0].is_unknown


def test_shares_of_an_intake_bring_their_sentence():
    assert eu_label().eu.sentence == ""
    panel = eu_panel_make(intake_sentence="Reference intake")
    share = DailyShare(12.0, "12%", "70 g", EVIDENCE)
    rows = tuple(
        replace(row, cells=(replace(row.cells[0], share=share),)) if row.key == "fat" else row
        for row in panel.rows
    )
    made = label_build(HEAD, replace(panel, rows=rows), statement_make(Market.EU)).eu
    assert made.sentence == "* Reference intake"
    assert made.lines[1].cells[0].percent == "12%*"


def test_a_range_wider_than_the_tolerance_is_told():
    label = eu_label()
    point = next(one for one in label.findings if one.title == "An analysis may find it wrong")
    assert point.severity == "warn"
    assert "fat" in point.text


def test_the_note_on_traces_is_the_kitchens_own():
    said = label_build(HEAD, us_panel_make(), statement_make(may_contain="hazelnut, egg")).statement
    assert said.lines == ("Contains oats.", "May contain: hazelnut, egg.")
    said = label_build(
        HEAD, us_panel_make(), statement_make(may_contain="May contain nuts!")
    ).statement
    assert said.lines[-1] == "May contain nuts!"


def test_additives_stand_gravest_first_with_rule_and_grade():
    found = (
        additive_make(Market.EU),
        additive_make(Market.EU, names=("agar",), e_numbers=("E406",), allowed=Verdict.NO,
                      severity=Severity.STOP, text="agar: not in mini-cups."),
    )  # fmt: skip
    statement = statement_make(Market.EU, additives=found, blocks=("agar: not in mini-cups.",))
    label = label_build(HEAD, eu_panel_make(), statement)
    assert titles(label.additives) == ["agar (E406)", "konjac (E425)"]
    assert label.additives[0].text == "not in mini-cups."
    assert label.additives[0].answer == "not allowed"
    assert label.additives[1].grade == "unverified"
    assert label.additives[1].rule
    assert not label.is_final


def test_no_e_numbers_stand_in_a_us_title():
    assert titles(us_label().additives) == ["konjac"]


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"category": "other"}, "The kind of food is not chosen"),
        ({"additives": (additive_make(Market.US, allowed=Verdict.CANNOT_TELL),)},
         "Whether konjac may be in it cannot be told"),
        ({"alcohol": Finding("x", Severity.STOP, "Alcohol in confectionery", "", "Ask.")},
         "Alcohol in confectionery."),
        ({"blocks": ("Line 3 is not in the list.",)}, "Line 3 is not in the list."),
    ],
)  # fmt: skip
def test_what_cannot_be_told_keeps_it_from_being_final(changes, said):
    label = label_build(HEAD, us_panel_make(), statement_make(**changes))
    assert any(title.startswith(said) for title in titles(label.blocks))
    assert not label.is_final


def test_a_question_stands_first_with_its_key_and_comes_back_when_settled():
    statement = statement_make(questions=(QUESTION,), blocks=("Line 9 is open.", QUESTION.text))
    label = label_build(HEAD, us_panel_make(), statement)
    assert [point.key for point in label.blocks] == ["milk:own", ""]
    label = label_build(HEAD, us_panel_make(), statement_make(), settled=(QUESTION,))
    assert titles(label.settled) == [QUESTION.text]
    assert label.is_final


def test_a_share_that_the_list_shows_is_marked():
    quid = (QuidCandidate("lime", 2.0, "lime (2.0 %)", "it is in the name", (4,)),)
    plain = label_build(HEAD, eu_panel_make(), statement_make(Market.EU, quid=quid))
    assert [one.is_shown for one in plain.quantities] == [False]
    runs = (Run("Ingredients: water, lime (2.0 %)."),)
    shown = label_build(HEAD, eu_panel_make(), statement_make(Market.EU, quid=quid, runs=runs))
    assert [one.is_shown for one in shown.quantities] == [True]


def test_the_weakest_grade_is_told():
    label = us_label()
    assert "estimated" in label.remark
    recalled = label_build(HEAD, us_panel_make(evidence=RECALLED), statement_make())
    assert "unverified" in recalled.remark
