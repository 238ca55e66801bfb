"""`setwell robustness`."""

import json

import pytest

FEW = ("--draws", "256")


def made(run, *options):
    result = run("robustness", "cream.txt", *FEW, *options, "--json")
    assert result.exit_code == 0, result.stderr
    return json.loads(result.stdout)["robustness"]


def test_text_says_the_chance_what_goes_wrong_and_what_to_change(run):
    result = run("robustness", "cream.txt", *FEW)
    assert result.exit_code == 0, result.stderr
    rows = result.stdout.splitlines()
    assert rows[0] == "Lime set cream"
    assert "home kitchens" in rows[1]
    assert "What drives it" in rows
    assert "your local code" in " ".join(rows)
    assert max(map(len, rows)) <= 80


def test_the_same_seed_makes_the_same_batches(run):
    first, again = made(run, "--seed", "5"), made(run, "--seed", "5")
    assert first == again
    assert first["seed"] == 5
    assert first["draws"] == 256
    assert made(run, "--seed", "6")["quantities"] != first["quantities"]


def test_chances_are_shares_and_a_lab_has_a_better_one(run):
    home, lab = made(run), made(run, "--profile", "lab")
    assert 0 <= home["chance"]["value"] <= lab["chance"]["value"] <= 1
    assert lab["profile"] == "lab"


def test_a_wider_window_is_hit_more_often(run):
    narrow = made(run, "--low", "10", "--high", "12")
    wide = made(run, "--low", "1", "--high", "200")
    assert narrow["chance"]["value"] < wide["chance"]["value"]


def test_a_saved_formula_counts_with_its_version(run):
    run("import", "cream.txt")
    result = run("robustness", "Lime set cream", *FEW)
    assert result.exit_code == 0, result.stderr


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (["--profile", "moon"], "“moon” is no kitchen known here."),
        (["--low", "9", "--high", "2"], "Right from 9 to 2 leaves no room."),
        (["--low", "much"], "setwell: "),
        (["--draws", "100000"], "83,616 too many: at most 16,384 here."),
        (["--draws", "3"], "too few to count"),
        (["--seed", "-1"], "is no seed"),
    ],
)
def test_a_bad_wish_is_one_line_and_status_1(run, options, said):
    result = run("robustness", "cream.txt", *options)
    assert result.exit_code == 1
    assert said in result.stderr
    assert result.stderr.count("\n") == 1


def test_a_formula_that_is_not_there_is_told(run):
    result = run("robustness", "nothing.txt")
    assert result.exit_code == 1
    assert "no saved formula" in result.stderr
