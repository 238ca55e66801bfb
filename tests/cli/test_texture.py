"""`setwell texture`."""

import json

import pytest


def test_a_gel_is_told_in_words_and_numbers_with_ranges(run):
    result = run("texture", "cream.txt")
    rows = result.stdout.splitlines()
    assert (result.exit_code, result.stderr) == (0, "")
    assert rows[0] == "Lime set cream"
    assert rows[1].startswith("Sets")
    for label in ("Stiffness", "Stress at break", "Strain at break", "Sets at", "Melts at"):
        assert any(row.startswith(label) for row in rows), label
    stiffness = next(row for row in rows if row.startswith("Stiffness"))
    assert "kPa" in stiffness
    assert "–" in stiffness
    assert "pressed to" in result.stdout
    assert "Kitchens see it set at" in result.stdout


def test_the_agents_tell_what_they_need(run):
    text = run("texture", "cream.txt").stdout
    assert "\nKappa carrageenan\n" in text
    assert "needs pH 4 or more; found pH" in " ".join(text.split())


def test_no_row_is_wider_than_the_terminal(run, folder):
    (folder / "both.txt").write_text(
        "Both\n\n500 g whole milk\n3 g kappa carrageenan\n3 g iota carrageenan\n1 g xanthan gum\n"
        "\nSteps:\nHeat to 90 °C and hold 5 min.\nChill to 4 °C.\n",
        encoding="utf-8",
    )
    assert max(len(row) for row in run("texture", "both.txt").stdout.splitlines()) <= 80


def test_json_holds_the_texture_and_its_agents(run):
    made = json.loads(run("texture", "cream.txt", "--json").stdout)
    assert (made["format"], made["format_version"]) == ("setwell-texture", 1)
    texture = made["texture"]
    assert texture["sets"] == "yes"
    assert texture["modulus_kpa"]["low"] <= texture["modulus_kpa"]["value"]
    assert texture["map_point"]["strain"] == texture["fracture_strain"]["value"]
    assert [agent["key"] for agent in made["agents"]] == ["kappa_carrageenan"]
    assert {"requirements", "zones", "readings"} <= set(made["agents"][0]["gel"])


def test_a_drink_is_told_by_its_thickness(run):
    text = run("texture", "-", given="Drink\n\n500 g water\n2 g xanthan gum\n").stdout
    assert "Thickness, stirred" in text
    assert "Stiffness" not in text


@pytest.mark.parametrize(
    ("lines", "said"),
    [
        ("100 g water", "No texture agent"),
        ("60 g sugar\n40 g kappa carrageenan", ""),
        ("100 g water\nsome of it\n2 g gelatin", "Not every line could be read"),
        ("200 g pineapple juice\n4 g gelatin", ""),
        ("40 g kappa carrageenan", ""),
    ],
)
def test_odd_formulas_get_a_plain_sentence(run, lines, said):
    result = run("texture", "-", given=f"Odd\n\n{lines}\n")
    assert (result.exit_code, result.stderr) == (0, "")
    rows = result.stdout.splitlines()
    assert rows[0] == "Odd"
    assert rows[1]
    assert said in result.stdout


def test_a_file_that_is_not_there_is_said(run):
    result = run("texture", "nothing.txt")
    assert (result.exit_code, result.stdout) == (1, "")
    assert result.stderr.startswith("setwell: There is no file and no saved formula")


def test_check_prints_the_same_numbers(run):
    checked = run("check", "cream.txt").stdout
    told = run("texture", "cream.txt").stdout
    stiffness = next(row for row in told.splitlines() if row.startswith("Stiffness"))
    assert stiffness in checked
