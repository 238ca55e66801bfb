"""`setwell label`."""

import json
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader


def made(run, *options):
    result = run("label", "cream.txt", *options, "--json")
    assert result.exit_code == 0, result.stderr
    return json.loads(result.stdout)


def test_text_has_panel_list_and_what_is_missing(run):
    result = run("label", "cream.txt")
    assert result.exit_code == 0, result.stderr
    rows = result.stdout.splitlines()
    assert rows[0] == "LIME SET CREAM"
    assert rows[2].startswith("Draft, to be checked by a qualified person.")
    assert "Nutrition Facts" in rows
    assert any(row.startswith("Ingredients: milk, cream") for row in rows)
    assert "Contains: milk." in rows
    assert "What stands against final" in rows
    assert max(map(len, rows)) <= 80
    assert "Before rounding" not in result.stdout
    assert "Before rounding" in run("label", "cream.txt", "--unrounded").stdout


def test_the_market_decides_panel_and_list(run):
    result = run("label", "cream.txt", "--market", "EU", "--category", "set_dessert")
    assert "Nutrition declaration" in result.stdout
    assert "MILK" in result.stdout
    assert "Nutrition Facts" not in result.stdout


def test_json_says_draft_and_carries_figures_with_their_origin(run):
    found = made(run, "--container", "500g", "--category", "set_dessert")
    assert found["format"] == "setwell-label"
    assert found["label"]["banner"] == "Draft, to be checked by a qualified person"
    assert found["panel"]["status"] == "draft, to be checked by a qualified person"
    figure = found["label"]["figures"][0]
    assert figure["estimate"]["evidence"]
    assert figure["estimate"]["low"] <= figure["estimate"]["value"]
    assert found["statement"]["market"] == "us"


def test_a_serving_is_a_key_or_a_weight(run):
    assert made(run, "--serving", "ice_cream")["label"]["us"]["serving_size"].startswith("2/3 cup")
    assert made(run, "--serving", "3 oz")["label"]["us"]["serving_size"] == "85 g"


def test_an_analysis_takes_the_place_of_what_is_computed(run):
    found = made(run, "--analyzed", "iron=3.6", "--analyzed", "trans fat=0")
    iron = next(row for row in found["panel"]["rows"] if row["key"] == "iron")
    assert iron["unknown_in"] == []
    assert iron["cells"][0]["printed"]["form"] == "value"


def test_a_pdf_is_written_once(run, folder: Path):
    options = ("label", "cream.txt", "--market", "eu", "--pdf", "label.pdf")
    first = run(*options)
    assert first.exit_code == 0, first.stderr
    assert first.stdout == ""
    text = PdfReader(BytesIO((folder / "label.pdf").read_bytes())).pages[0].extract_text()
    assert "Nutrition declaration" in text
    assert run(*options).exit_code == 1
    assert run(*options, "--force", "--paper", "Letter").exit_code == 0


def test_final_fails_while_something_stands_against_it_and_still_shows_the_draft(run):
    result = run("label", "cream.txt", "--final")
    assert result.exit_code == 1
    assert "It cannot be final yet" in result.stderr
    assert "Nutrition Facts" in result.stdout


def test_the_note_on_traces_is_printed_as_given(run):
    result = run("label", "cream.txt", "--may-contain", "hazelnut")
    assert "May contain: hazelnut." in result.stdout.splitlines()


def test_a_saved_formula_counts_with_its_version(run):
    run("import", "cream.txt")
    assert "version 1" in run("label", "Lime set cream").stdout


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (["--market", "moon"], "There is no market"),
        (["--serving", "lots"], "There is no reference amount"),
        (["--serving", "0 g"], "weight of a serving cannot be"),
        (["--container", "much"], "setwell: "),
        (["--category", "moon"], "There is no kind of food"),
        (["--analyzed", "luck=3"], "names nothing that a panel has"),
        (["--may-contain", "nuts " * 100], "at most 300 fit"),
    ],
)
def test_a_bad_wish_is_one_line_and_status_1(run, options, said):
    result = run("label", "cream.txt", *options)
    assert result.exit_code == 1
    assert said in result.stderr
    assert result.stderr.count("\n") == 1


def test_kept_choices_count_until_an_option_says_otherwise(run):
    assert run("import", "cream.txt").exit_code == 0
    result = run(
        "label", "Lime set cream", "--market", "eu", "--may-contain", "May contain nuts", "--keep"
    )
    assert result.exit_code == 0, result.stderr
    assert "Kept with version 1." in result.stderr
    again = run("label", "Lime set cream").stdout
    assert "Nutrition declaration" in again
    assert "May contain nuts" in again
    assert "Nutrition Facts" in run("label", "Lime set cream", "--market", "us").stdout


def test_nothing_is_kept_with_a_file(run):
    result = run("label", "cream.txt", "--keep")
    assert result.exit_code == 1
    assert "is not saved, so nothing can be kept with it" in result.stderr
