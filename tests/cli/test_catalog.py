"""`setwell foods`, `setwell agents` and `setwell pantry`."""

import json

import pytest


def test_foods_finds_by_word(run):
    result = run("foods", "milk", "--limit", "5")
    rows = result.stdout.splitlines()
    assert rows[0].split() == ["name", "group", "source", "grade"]
    assert "milk" in result.stdout.lower()


def test_foods_as_json_has_key_name_and_source(run):
    found = json.loads(run("foods", "milk", "--json").stdout)["foods"]
    assert {"key", "name", "source", "grade", "is_own"} <= set(found[0])


def test_a_food_that_is_not_there_says_what_to_try(run):
    result = run("foods", "zzzqqq")
    assert result.exit_code == 0
    assert result.stdout == 'No food is called "zzzqqq". Try one word of it, or add an own food.\n'


def test_agents_lists_all(run):
    text = run("agents").stdout.lower()
    assert "kappa" in text
    assert "agar" in text


def test_agents_stand_side_by_side(run):
    result = run("agents", "kappa carrageenan", "agar")
    assert result.exit_code == 0
    assert max(len(row) for row in result.stdout.splitlines()) <= 80
    assert "°C" in result.stdout


def test_an_unknown_agent_is_an_error_of_one_line(run):
    result = run("agents", "kapa caragenan")
    assert (result.exit_code, result.stdout) == (1, "")
    assert result.stderr.startswith("setwell: ")
    assert result.stderr.count("\n") == 1


def test_agents_as_json_are_strict_json(run):
    made = json.loads(run("agents", "agar", "--json").stdout)
    assert made["format"] == "setwell-agents"
    assert made["chart"]


@pytest.mark.parametrize(
    "entity", ["food", "agent", "lot", "price", "mold", "vessel", "hob", "cooler"]
)
def test_pantry_goes_out_and_in_again(run, folder, entity):
    assert run("pantry", "export", entity, f"{entity}.csv").exit_code == 0
    result = run("pantry", "import", entity, f"{entity}.csv")
    assert (result.exit_code, result.stdout) == (0, "0 added, 0 updated\n")


def test_pantry_import_adds_rows(run, folder):
    head = run("pantry", "export", "mold").stdout.splitlines()[0].split(",")
    row = {"name": "Half sphere", "volume_ml": "80", "count": "12", "shape": "other"}
    text = ",".join(head) + "\n" + ",".join(row.get(column, "") for column in head) + "\n"
    (folder / "molds.csv").write_text(text, encoding="utf-8")
    assert run("pantry", "import", "mold", "molds.csv").stdout == "1 added, 0 updated\n"
    assert "Half sphere" in run("pantry", "export", "mold").stdout


def test_pantry_import_with_a_bad_row_changes_nothing(run, folder):
    head = run("pantry", "export", "mold").stdout.splitlines()[0].split(",")
    rows = [
        {"name": "Good", "volume_ml": "80", "count": "1"},
        {"name": "Bad", "volume_ml": "much", "count": "1"},
    ]
    lines = [",".join(row.get(column, "") for column in head) for row in rows]
    (folder / "molds.csv").write_text("\n".join([",".join(head), *lines]), encoding="utf-8")
    result = run("pantry", "import", "mold", "molds.csv")
    assert result.exit_code == 1
    assert "volume_ml" in result.stderr
    assert result.stderr.endswith("Nothing was changed. Correct the file and import it again.\n")
    assert "Good" not in run("pantry", "export", "mold").stdout


def test_an_unknown_kind_of_thing_is_a_usage_error(run):
    assert run("pantry", "export", "knife").exit_code == 2
