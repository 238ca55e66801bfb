"""`setwell blend`."""

import json

import pytest

BLEND = "kappa carrageenan:60,locust bean gum:40"
MILK = ("--dose", "0.6", "--base", "whole milk")


def made(run, *options):
    result = run("blend", *options, "--json")
    assert result.exit_code == 0, result.stderr
    return json.loads(result.stdout)


def test_text_lists_ratios_doses_and_lines(run):
    result = run("blend", BLEND, *MILK)
    assert result.exit_code == 0, result.stderr
    rows = result.stdout.splitlines()
    assert rows[0] == "Kappa carrageenan and locust bean gum in whole milk"
    assert sum(row.startswith(("100:0", "95:5", "50:50", "0:100")) for row in rows) == 4
    assert any(row.startswith("Stiffest at ") for row in rows)
    assert "  3.6 g kappa carrageenan" in rows
    assert "Caution: Buy food grade only" in result.stdout
    assert max(map(len, rows)) <= 80


def test_json_has_every_ratio_with_its_range(run):
    found = made(run, BLEND, *MILK, "--kcl", "0.1")["blend"]
    assert len(found["ratios"]) == 21
    assert found["shares"] == pytest.approx([0.6, 0.4])
    stiff = found["now"]["modulus_kpa"]
    assert stiff["low"] < stiff["value"] < stiff["high"]
    assert "g potassium chloride" in found["formula"]["ingredients"]


def test_three_agents_and_names_with_commas(run):
    found = made(run, "Gellan gum, high acyl:2; agar:1, konjac:1", "--dose", "0.8")["blend"]
    assert [agent["key"] for agent in found["agents"]] == ["gellan_HA", "agar", "konjac"]
    assert found["shares"] == pytest.approx([0.5, 0.25, 0.25])
    assert "not 100" in found["remarks"][0]


def test_a_formula_without_its_agents_is_a_base(run):
    found = made(run, BLEND, "--dose", "0.6", "--formula", "cream.txt")["blend"]
    lines = found["formula"]["ingredients"].splitlines()
    assert "5 g kappa carrageenan" not in lines
    assert "200 g heavy cream" in lines


def test_what_is_unusual_is_said_on_standard_error(run):
    result = run("blend", "agar:2, guar gum:1", "--dose", "40")
    assert result.exit_code == 0
    assert "far outside of any use" in result.stderr
    assert "not 100" in result.stderr


def test_nothing_is_heated_when_none_is_asked(run):
    found = made(run, BLEND, *MILK, "--heat", "none", "--serving", "20")["blend"]
    assert "Heat" not in found["formula"]["steps"]
    assert found["formula"]["serving_temperature_c"] == 20


@pytest.mark.parametrize(
    ("options", "said"),
    [
        ([BLEND, "--dose", "61"], "A dose of 61 % cannot be tried here"),
        ([BLEND, "--dose", "much"], "setwell: "),
        ([BLEND, "--dose", "0.6", "--base", "sunflower oil"], "next to no water"),
        ([BLEND, "--dose", "0.6", "--heat", "hot"], "setwell: "),
        (["kappa:60, sand:40", "--dose", "1"], "“sand” is not known"),
        (["kappa:60, kappa:40", "--dose", "1"], "is in the blend already"),
        (["kappa 60", "--dose", "1"], "is not an agent with its parts"),
        (["kappa:0, agar:0", "--dose", "1"], "All parts are 0"),
        (["kappa:1", "--dose", "1"], "two or three agents, not 1"),
        (["", "--dose", "1"], "two or three agents, not 0"),
    ],
)
def test_a_bad_wish_is_one_line_and_status_1(run, options, said):
    result = run("blend", *options)
    assert result.exit_code == 1
    assert said in result.stderr
    assert result.stderr.count("\n") == 1


def test_the_dose_is_needed(run):
    assert run("blend", BLEND).exit_code == 2
