"""`setwell reading`, and readings of ingredients as CSV."""

import datetime as dt
import json

import pytest

from setwell.services.assessment import formula_assess
from setwell.services.clock import today
from setwell.services.formulas import formula_list, formula_save, version_get
from setwell.services.readings import version_reading_list


@pytest.fixture
def measured(run):
    """Save the cream, then return what was recorded of it, newest first."""
    run("import", "cream.txt")

    def rows():
        formula_id = formula_list()[0].id
        return [(row.number, row.document) for row in version_reading_list(formula_id=formula_id)]

    return rows


def test_a_reading_of_the_newest_version_is_recorded(run, measured):
    result = run("reading", "Lime set cream", "4,2")
    assert result.exit_code == 0
    assert result.stdout == "Recorded: pH 4.20 ± 0.05 of Lime set cream, version 1.\n"
    ((number, document),) = measured()
    assert (number, document.ph, document.taken_on) == (1, 4.2, today())


def test_options_say_how_sure_when_and_what(run, measured):
    options = ("--plus-minus", "0.1", "--date", "2026-11-20", "--note", "strip", "--version", "1")
    assert run("reading", "Lime set cream", "4.2", *options).exit_code == 0
    ((_, document),) = measured()
    assert (document.plus_minus, document.note) == (0.1, "strip")
    assert document.taken_on == dt.date(2026, 11, 20)


def test_a_second_reading_tells_the_mean(run, measured):
    run("reading", "Lime set cream", "4.2")
    said = run("reading", "Lime set cream", "4.6").stdout.splitlines()
    assert said[1] == "The mean of 2 readings counts: pH 4.40 ± 0.20."
    assert len(measured()) == 2


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("15",), "setwell: pH 15 is not possible: write a number from 0 to 14.\n"),
        (("sour",), "setwell: "),
        (("4", "--plus-minus", "2"),
         "setwell: --plus-minus 2 is not possible: write a number from 0.01 to 1.\n"),
        (("4", "--date", "soon"), "setwell: --date 'soon' is not a day. Write it as 2027-03-31.\n"),
        (("4", "--version", "7"), "setwell: There is no version 7 of formula "),
        (("4", "--note", "x" * 2001), "setwell: note: "),
    ],
)  # fmt: skip
def test_what_cannot_be_recorded_is_explained(run, measured, arguments, said):
    result = run("reading", "Lime set cream", *arguments)
    assert (result.exit_code, result.stdout) == (1, "")
    assert result.stderr.startswith(said)
    assert measured() == []


def test_a_formula_that_is_not_saved_cannot_be_measured(run, folder):
    result = run("reading", "Plum jelly", "3.4")
    assert result.exit_code == 1
    assert result.stderr.startswith('setwell: There is no file and no saved formula "Plum jelly".')


def test_readings_of_ingredients_go_in_and_out_as_csv(run, folder):
    (folder / "ph.csv").write_text("material,ph,lot_code\nlime juice,2.35,LJ-4\n")
    assert run("pantry", "import", "reading", "ph.csv").stdout == "1 added, 0 updated\n"
    assert run("pantry", "export", "reading").stdout == (
        "material,ph,plus_minus,lot_code,taken_on,temperature_c,in_use,note\n"
        "lime juice,2.35,0.05,LJ-4,,,yes,\n"
    )


@pytest.fixture
def changed(run, measured):
    """Measure version 1 of the cream, then save a version 2 with more lime."""
    run("reading", "Lime set cream", "5.1")
    head = version_get(formula_id=formula_list()[0].id)
    text = head.formula.ingredients.replace("10 g lime juice", "12 g lime juice")
    formula_save(
        formula_id=head.summary.formula_id,
        formula=head.formula.revised(ingredients=text),
        base_number=1,
    )


def ph_of(result):
    figures = json.loads(result.stdout)["assessment"]["solution"]
    (found,) = (figure for figure in figures if figure["key"] == "ph")
    return found["estimate"]["value"], found["remark"]


def test_a_reading_of_an_earlier_version_counts_in_every_command(run, changed):
    moved, remark = ph_of(run("check", "Lime set cream", "--json"))
    assert "as an earlier version was measured" in remark
    head = version_get(formula_id=formula_list()[0].id)
    assert ph_of(run("check", head.summary.hash, "--json")) == (moved, remark)
    card = json.loads(run("card", "Lime set cream", "--json").stdout)["card"]
    (shown,) = (number for number in card["key_numbers"] if number["key"] == "ph")
    assert float(shown["value"]) == pytest.approx(moved, abs=0.051)
    acid = run("acid", "Lime set cream", "--to", "4", "--json")
    assert json.loads(acid.stdout)["acid_plan"]["ph"]["value"] == moved
    said = run("acid", "Lime set cream", "--to", "4").stdout
    assert "computed, moved by an earlier reading; to pH 4" in said.replace("\n", " ")
    page = formula_assess(
        formula=head.formula, formula_id=head.summary.formula_id, number=head.summary.number
    )
    assert page.figure("ph").estimate.value == pytest.approx(moved)


def test_a_file_belongs_to_no_version_and_stays_computed(run, changed):
    run("export", "Lime set cream", "--output", "second.json")
    value, remark = ph_of(run("check", "second.json", "--json"))
    assert value != ph_of(run("check", "Lime set cream", "--json"))[0]
    assert "earlier version" not in remark
