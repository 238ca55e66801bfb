"""`setwell acid`."""

import json

import pytest


def planned(run, *options):
    result = run("acid", "cream.txt", *options, "--json")
    assert result.exit_code == 0, result.stderr
    return json.loads(result.stdout)["acid_plan"]


def test_text_lists_what_to_weigh(run):
    result = run("acid", "cream.txt", "--to", "5.2")
    assert result.exit_code == 0
    rows = result.stdout.splitlines()
    assert rows[0] == "Lime set cream"
    assert any(row.split()[:3] == ["weigh", "range", "share"] for row in rows)
    assert any(row.rstrip().endswith("citric acid") for row in rows)
    assert "Caution: Measure the pH" in result.stdout
    assert max(map(len, rows)) <= 80


def test_json_has_grams_with_a_range(run):
    made = planned(run, "--to", "5.2", "--with", "citric acid")
    (dose,) = made["doses"]
    assert dose["reachable"] is True
    assert dose["grams"]["low"] < dose["grams"]["value"] < dose["grams"]["high"]
    assert made["target_ph"] == 5.2


def test_what_does_not_get_there_says_why(run):
    result = run("acid", "cream.txt", "--to", "9", "--with", "lemon juice")
    assert result.exit_code == 0
    assert "lemon juice: The batch is at pH" in result.stdout
    assert "only makes it more acid." in " ".join(result.stdout.split())


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (["--to", "15"], "A target of pH 15 is not possible"),
        (["--to", "sour"], "setwell: "),
        (["--to", "-2"], "setwell: "),
        (["--to", "4", "--with", "sand"], '"sand" is not one of the acids and buffers'),
    ],
)
def test_a_bad_wish_is_one_line_and_status_1(run, options, said):
    result = run("acid", "cream.txt", *options)
    assert result.exit_code == 1
    assert said in result.stderr
    assert result.stderr.count("\n") == 1


def test_a_formula_without_water_is_refused(run, folder):
    (folder / "sugar.txt").write_text("Sugar\n500 g sugar\n", encoding="utf-8")
    result = run("acid", "sugar.txt", "--to", "4")
    assert result.exit_code == 1
    assert "too little to speak of a pH" in result.stderr


def test_the_target_is_needed(run):
    assert run("acid", "cream.txt").exit_code == 2
