"""`setwell check`."""

import json

import pytest
from builders_assessment import assessment_make, assessment_unread, findings_with_stop

from setwell.domain.formula import formula_from_json
from setwell.services import assessment as assessment_service


@pytest.fixture
def assessed(monkeypatch):
    """Answer with a hand-made assessment, so that the print can be told to the letter."""

    def answer(made):
        monkeypatch.setattr(assessment_service, "formula_assess", lambda **_: made)

    return answer


def test_text_opens_with_title_verdict_and_batch(run, assessed):
    assessed(assessment_make())
    result = run("check", "cream.txt")
    assert (result.exit_code, result.stderr) == (0, "")
    assert result.stdout.splitlines()[:7] == [
        "Coconut oat set with lime",
        "Sets to a tender, spoonable gel.",
        "Batch: 927 g in, 927 g finished, 10 portions of 90.8 g",
        "",
        "Lines as read",
        "line  weight   share  read as            typed",
        "   2   600 g  64.7 %  oat drink          600 g oat drink",
    ]


def test_findings_come_by_severity_with_line_numbers(run, assessed):
    assessed(assessment_make(findings=findings_with_stop()))
    text = run("check", "cream.txt").stdout
    assert text.index("  STOP  ") < text.index("  WARN  ") < text.index("  NOTE  ")
    assert "weaken below 4. Stir in the lime juice after cooking. (line 9)\n" in text


def test_numbers_have_range_unit_and_grade(run, assessed):
    assessed(assessment_make())
    text = run("check", "cream.txt").stdout
    assert "48 °C (118 °F)  40–58 °C (104–136 °F)  estimated\n" in text
    assert "  Cautions:  1: Cool quickly\n" in text


def test_no_row_is_wider_than_the_terminal(run, assessed):
    assessed(assessment_make(findings=findings_with_stop()))
    text = run("check", "cream.txt", "--sources").stdout
    assert max(len(row) for row in text.splitlines()) <= 80


def test_output_that_is_no_terminal_has_no_color(run, assessed):
    assessed(assessment_make(findings=findings_with_stop()))
    assert "\x1b" not in run("check", "cream.txt").output


def test_typed_brackets_are_not_taken_for_markup(run, assessed):
    made = assessment_unread()
    assessed(made)
    bracketed = made.formula.revised(title="[red]Cream[/red] :lime:")
    assessed(assessment_make(formula=bracketed))
    assert run("check", "cream.txt").stdout.startswith("[red]Cream[/red] :lime:\n")


def test_an_unread_line_says_what_to_do_and_still_exits_with_0(run, assessed):
    assessed(assessment_unread())
    result = run("check", "cream.txt")
    assert result.exit_code == 0
    assert "Not complete: 1 of 7 lines could not be weighed.\n" in result.stdout
    assert "  line 4: No amount was found; write for example 60 g sugar. Nearest: sugar.\n" in (
        result.stdout
    )


@pytest.mark.parametrize(
    "made", [assessment_unread(), assessment_make(findings=findings_with_stop())]
)
def test_strict_exits_with_1_on_a_stop_or_an_unread_line(run, assessed, made):
    assessed(made)
    assert run("check", "cream.txt", "--strict").exit_code == 1
    assert run("check", "cream.txt", "--strict", "--json").exit_code == 1


def test_strict_is_content_with_warnings(run, assessed):
    assessed(assessment_make())
    assert run("check", "cream.txt", "--strict").exit_code == 0


def test_json_is_complete_and_keeps_the_formula(run):
    result = run("check", "cream.txt", "--json")
    made = json.loads(result.stdout)
    assert (made["format"], made["format_version"]) == ("setwell-assessment", 1)
    found = made["assessment"]
    assert {"formula", "lines", "findings", "agents", "evidence", "cost"} <= set(found)
    formula = formula_from_json(json.dumps(found["formula"]))
    assert formula.content_hash == found["formula_hash"]


def test_the_real_engine_sets_the_cream(run):
    result = run("check", "cream.txt")
    rows = result.stdout.splitlines()
    assert rows[0] == "Lime set cream"
    assert rows[1].startswith("Sets")
    assert "Batch: 675 g in, 675 g finished, 8 portions of 84.4 g" in rows
    assert "STOP" not in result.stdout
    assert any(row.startswith("Kappa carrageenan  0.74 %") for row in rows)


def test_sources_are_listed_on_request(run):
    plain, listed = run("check", "cream.txt"), run("check", "cream.txt", "--sources")
    assert "Where the numbers come from" not in plain.stdout
    assert "Where the numbers come from\n  - " in listed.stdout


def test_standard_input_is_read(run, folder):
    text = (folder / "cream.txt").read_text(encoding="utf-8")
    assert run("check", "-", given=text).stdout.startswith("Lime set cream\n")


def test_a_saved_formula_is_found_by_title_id_and_hash(run):
    saved = run("import", "cream.txt").stdout.split()
    listed = json.loads(run("formulas", "--json").stdout)["formulas"][0]
    for name in ("lime SET cream", saved[0], listed["head_hash"]):
        assert run("check", name).stdout.startswith("Lime set cream\n"), name


def test_a_file_wins_over_a_saved_formula_of_that_name(run, folder):
    run("import", "cream.txt")
    (folder / "Lime set cream").write_text("Another cream\n\n100 g water\n", encoding="utf-8")
    assert run("check", "Lime set cream").stdout.startswith("Another cream\n")


def test_neither_file_nor_formula_says_so_and_offers_the_nearest(run):
    run("import", "cream.txt")
    result = run("check", "Lime set creme")
    assert (result.exit_code, result.stdout) == (1, "")
    assert result.stderr == (
        'setwell: There is no file and no saved formula "Lime set creme". '
        'Did you mean "Lime set cream"?\n'
    )


def test_two_formulas_of_one_name_ask_for_the_id(run):
    run("import", "cream.txt")
    run("import", "cream.txt")
    result = run("check", "Lime set cream")
    assert result.exit_code == 1
    assert '2 saved formulas are called "Lime set cream". Give one of the ids' in result.stderr


@pytest.mark.parametrize("given", ["", "   \n\n"])
def test_nothing_at_all_is_a_clear_error(run, given):
    result = run("check", "-", given=given)
    assert result.exit_code == 1
    assert result.stderr == (
        "setwell: Standard input is empty; a formula needs at least one line.\n"
    )


def test_an_empty_name_is_not_taken_for_this_folder(run):
    result = run("check", "")
    assert result.exit_code == 1
    assert result.stderr == "setwell: No file and no saved formula was named.\n"


def test_a_name_longer_than_a_file_name_is_shortened_in_the_message(run):
    result = run("check", "a" * 5000)
    assert result.exit_code == 1
    assert len(result.stderr) < 200


def test_json_of_another_kind_is_refused_in_one_line(run, folder):
    (folder / "other.json").write_text('{"a": 1}', encoding="utf-8")
    result = run("check", "other.json")
    assert result.exit_code == 1
    assert result.stderr.startswith("setwell: ")
    assert result.stderr.count("\n") == 1


def test_without_the_kitchen_the_users_own_is_not_touched(run, folder, monkeypatch):
    monkeypatch.setenv("SETWELL_HOME", str(folder / "own"))
    assert run("check", "cream.txt", "--no-kitchen").exit_code == 0
    assert not (folder / "own").exists()


def test_a_missing_argument_is_a_usage_error(run):
    result = run("check")
    assert result.exit_code == 2
    assert "Missing argument 'FILE'" in result.stderr


def test_what_the_model_is_too_weak_for_is_named(run, tmp_path):
    brine = tmp_path / "brine.txt"
    brine.write_text("Brine\n\n100 g salt\n100 g water\n", encoding="utf-8")
    words = " ".join(run("check", str(brine)).stdout.split())
    assert "Outside the range of the model: pH, computed, Water activity" in words


def test_a_powder_has_no_ph(run, tmp_path):
    powder = tmp_path / "powder.txt"
    powder.write_text("Powder\n\n100 g sugar\n", encoding="utf-8")
    said = run("check", str(powder)).stdout
    assert "too little water in this batch to speak of a pH" in said
    assert "pH, computed" not in said
