"""`setwell import`, `export`, `formulas` and `card`."""

import json
from io import BytesIO

import pytest
from pypdf import PdfReader

from setwell.domain.formula import formula_from_json


def test_import_prints_id_title_and_version(run):
    result = run("import", "cream.txt")
    assert result.exit_code == 0
    number, rest = result.stdout.split("  ", 1)
    assert number.isdigit()
    assert rest.startswith("Lime set cream  (version 1, ")


def test_import_goes_on_after_a_bad_file_and_exits_with_1(run, folder):
    (folder / "bad.json").write_text("{", encoding="utf-8")
    result = run("import", "bad.json", "cream.txt")
    assert result.exit_code == 1
    assert "Lime set cream" in result.stdout
    assert result.stderr.startswith("setwell: ")
    assert result.stderr.endswith("1 of 2 files were not imported.\n")


def test_export_and_import_keep_the_content(run, folder):
    run("import", "cream.txt")
    exported = run("export", "Lime set cream")
    formula = formula_from_json(exported.stdout)
    (folder / "again.json").write_text(exported.stdout, encoding="utf-8")
    run("import", "again.json")
    hashes = {item["head_hash"] for item in listed(run)}
    assert hashes == {formula.content_hash}


def test_export_as_text_can_be_imported_again(run, folder):
    run("import", "cream.txt")
    text = run("export", "Lime set cream", "--text").stdout
    assert text.startswith("Lime set cream\n")
    (folder / "again.txt").write_text(text, encoding="utf-8")
    run("import", "again.txt")
    assert len({item["head_hash"] for item in listed(run)}) == 1


def test_export_to_a_file_does_not_overwrite(run, folder):
    run("import", "cream.txt")
    assert run("export", "Lime set cream", "-o", "cream.json").exit_code == 0
    again = run("export", "Lime set cream", "-o", "cream.json")
    assert again.exit_code == 1
    assert again.stderr == "setwell: cream.json exists already. Add --force to write over it.\n"
    assert run("export", "Lime set cream", "-o", "cream.json", "--force").exit_code == 0


def test_export_of_a_version_that_is_not_there_is_an_error(run):
    run("import", "cream.txt")
    result = run("export", "Lime set cream", "--version", "7")
    assert result.exit_code == 1
    assert result.stderr.startswith("setwell: ")


def test_formulas_lists_what_is_saved(run):
    assert run("formulas").stdout == "No saved formula.\n"
    run("import", "cream.txt")
    rows = run("formulas").stdout.splitlines()
    assert rows[0].split() == ["id", "title", "version", "saved", "texture"]
    assert "Lime set cream" in rows[1]
    assert run("formulas", "tomato").stdout == 'No saved formula has "tomato".\n'


def test_card_of_a_file_says_that_it_is_not_saved(run):
    text = run("card", "cream.txt").stdout
    assert text.startswith("LIME SET CREAM\n")
    assert " · not saved · " in text


def test_card_of_a_saved_formula_names_its_version(run):
    run("import", "cream.txt")
    assert " · version 1 · " in run("card", "Lime set cream").stdout


@pytest.mark.parametrize(("paper", "width"), [("A5", 148), ("A4", 210), ("Letter", 215.9)])
def test_card_as_pdf_has_the_paper_and_the_text(run, folder, paper, width):
    result = run("card", "cream.txt", "--pdf", "card.pdf", "--paper", paper)
    assert (result.exit_code, result.stdout) == (0, "")
    assert result.stderr.startswith("Wrote card.pdf (")
    page = PdfReader(BytesIO((folder / "card.pdf").read_bytes())).pages[0]
    assert float(page.mediabox.width) / 72 * 25.4 == pytest.approx(width, abs=0.1)
    assert "Lime set cream" in page.extract_text()


def test_card_as_json_has_the_words_of_the_card(run):
    made = json.loads(run("card", "cream.txt", "--json").stdout)
    assert made["format"] == "setwell-card"
    assert made["card"]["title"] == "Lime set cream"
    assert made["card"]["deferral"]


def test_an_unknown_paper_is_a_usage_error(run):
    assert run("card", "cream.txt", "--paper", "A3").exit_code == 2


def listed(run):
    return json.loads(run("formulas", "--json").stdout)["formulas"]
