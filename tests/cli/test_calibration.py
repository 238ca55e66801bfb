"""`setwell measure`: readings, lot checks, and what they move."""

import csv
import io
import json

import pytest
from builders_kitchen import lot_of

from setwell.services import pantry
from setwell.services.lot_checks import lot_check_list
from setwell.services.texture_readings import texture_reading_list


@pytest.fixture
def cream(run):
    run("import", "cream.txt")
    pantry.lot_save(id=None, document=lot_of("K-1", in_use=True))
    return "Lime set cream"


def test_each_cup_is_a_reading_of_its_own(run, cream):
    result = run("measure", "reading", cream, "penetration", "310", "330", "--plunger", "12.7")
    assert result.exit_code == 0
    assert "Load at break 310 g, plunger 12.7 mm, of Lime set cream" in result.stdout
    rows = texture_reading_list()
    assert [row.document.value for row in rows] == [330, 310]
    assert rows[0].document.lots == {"kappa_carrageenan": "K-1"}


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("penetration", "0"), "the plunger met nothing"),
        (("penetration",), "give the reading in g"),
        (("setting_temperature", "105"), "nothing sets there"),
        (("viscosity", "60", "--rate", "50"), "give the temperature of the sample too"),
        (("penetration", "300", "--lot", "kappa_carrageenan=K-9"), "no lot “K-9”"),
        (("penetration", "300", "--lot", "K-9"), "names no lot"),
        (("outcome", "flew"), "outcome: "),
        (("sound", "3"), "kind: "),
    ],
)
def test_what_cannot_be_recorded_is_explained(run, cream, arguments, said):
    result = run("measure", "reading", cream, *arguments)
    assert result.exit_code == 1
    assert said in result.stderr
    assert texture_reading_list() == ()


def test_a_lot_check_tells_the_strength_and_what_contradicts(run, cream):
    told = run("measure", "lot", "kappa carrageenan", "potassium_gel", "310", "330", "--lot", "K-1")
    assert "times the usual (" in told.stdout
    assert "on 2 own measurements." in told.stdout
    assert "Take " in told.stdout
    wild = run("measure", "lot", "kappa carrageenan", "potassium_gel", "1500", "--lot", "K-1")
    said = " ".join(wild.stdout.split())
    assert "In dispute" in said
    assert "They lie a factor of 4.8 apart." in said
    assert "Take " not in said
    wild_id = lot_check_list()[0].id
    result = run("measure", "set-aside", str(wild_id), "--lot-check", "--reason", "hit the rim")
    assert result.stdout == f"Set aside: lot check {wild_id}.\n"
    assert "In dispute" not in run("measure", "show", "kappa carrageenan", "--lot", "K-1").stdout
    run("measure", "take-back", str(wild_id), "--lot-check")
    assert all(row.counts for row in lot_check_list())


def test_a_reading_is_not_set_aside_without_a_reason(run, cream):
    run("measure", "reading", cream, "outcome", "set")
    (row,) = texture_reading_list()
    result = run("measure", "set-aside", str(row.id))
    assert result.exit_code == 1
    assert "Say why" in result.stderr
    assert texture_reading_list()[0].counts


def test_a_test_is_told_in_steps_and_nothing_is_recorded(run, cream):
    said = run("measure", "lot", "kappa carrageenan", "powder_control", "--steps").stdout
    assert "100 g (3.53 oz) water" in said
    assert "the fault is elsewhere" in " ".join(said.split())
    assert lot_check_list() == ()
    assert run("measure", "lot", "agar", "moon_test", "--steps").exit_code == 1


def test_before_and_after_are_printed_and_given_as_json(run, cream):
    assert "No own measurement" in run("measure", "show", cream).stdout
    run("measure", "reading", cream, "firmness_press", "1500", "--depth", "4")
    said = run("measure", "show", cream).stdout
    assert "tables only" in said
    assert "1 own measurement (1 of lot K-1" in " ".join(said.split())
    made = json.loads(run("measure", "show", cream, "--json").stdout)
    (row,) = made["quantities"]
    assert row["calibrated"]["high"] / row["calibrated"]["low"] < (
        row["computed"]["high"] / row["computed"]["low"]
    )
    lot = json.loads(run("measure", "show", "kappa carrageenan", "--lot", "K-1", "--json").stdout)
    assert lot["lot"]["lot_code"] == "K-1"


def test_everything_is_listed_and_exported(run, cream):
    assert "Nothing was measured yet." in run("measure", "list").stdout
    run("measure", "reading", cream, "word", "brittle", "--note", "snaps")
    run("measure", "lot", "kappa carrageenan", "powder_control", "--outcome", "set", "--lot", "K-1")
    said = " ".join(run("measure", "list").stdout.split())
    assert "Trade word: brittle" in said
    assert "Control cup, set" in said
    made = json.loads(run("measure", "list", "--json").stdout)
    assert [len(made["readings"]), len(made["lot_checks"])] == [1, 1]
    (row,) = csv.DictReader(io.StringIO(run("measure", "export").stdout))
    assert (row["word"], row["note"]) == ("brittle", "snaps")
    (check,) = csv.DictReader(io.StringIO(run("measure", "export", "--lot-check").stdout))
    assert check["outcome"] == "set"
