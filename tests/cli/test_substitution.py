"""`setwell substitute`."""

import json

import pytest

OUT = ("substitute", "cream.txt")


def test_without_a_new_agent_all_are_tried_and_told(run):
    result = run(*OUT)
    assert result.exit_code == 0, result.stderr
    assert "Could stand in, nearest first" in result.stdout
    assert "will not gel: it only thickens" in result.stdout
    assert max(map(len, result.stdout.splitlines())) <= 80


def test_a_swap_prints_dose_table_work_and_lines(run):
    result = run(*OUT, "--by", "gelatin")
    assert result.exit_code == 0, result.stderr
    rows = result.stdout.splitlines()
    assert any(row.startswith("In comes ") and " gelatin" in row for row in rows)
    assert any(row.startswith("Strain at break") and row.endswith("changes") for row in rows)
    assert any(row.startswith("+ Bloom the gelatin") for row in rows)
    assert any(row.endswith(" g gelatin") for row in rows)


def test_json_holds_the_swap_and_a_readable_formula(run, folder):
    made = json.loads(run(*OUT, "--by", "agar", "--json").stdout)["substitution"]
    swap = made["swap"]
    assert swap["is_reached"] is True
    assert swap["dose_g"]["value"] > 0
    assert " g agar" in swap["formula"]["ingredients"]
    assert made["candidates"] == []


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (("--by", "agrr"), "“agrr” is not known"),
        (("--replace", "gelatin", "--by", "agar"), "is not in this formula"),
        (("--by", "kappa carrageenan"), "is what the formula has already"),
        (("--keep", "taste"), "cannot be kept"),
        (("--bloom", "200"), "Bloom is a strength of gelatin"),
        (("--strength", "0"), "not possible"),
        (("--remove", "--by", "agar"), "both be left out"),
    ],
)
def test_what_cannot_be_done_is_one_plain_line(run, options, said):
    result = run(*OUT, *options)
    assert result.exit_code == 1
    assert said in " ".join(result.stderr.split())
    assert "Traceback" not in result.stderr
