"""Agent figures against the printed numbers of their sources."""

import csv
from decimal import Decimal
from math import log10
from pathlib import Path

import pytest

from setwell.provenance import Grade
from setwell.tables.agents import agent_rows, gelatin_grades
from setwell.tables.rules import swallowing_bands, viscosity_landmarks

CASES = Path(__file__).parent / "cases"
SEEN = {Grade.STANDARD, Grade.MEASURED, Grade.COMPILED}

# Standard atomic weights, abridged: iupac_2021, table 1.
MASS = {
    "H": 1.0080, "C": 12.011, "O": 15.999, "Na": 22.990,
    "S": 32.06, "K": 39.098, "Ca": 40.078,
}  # fmt: skip

# Anion of the ideal disaccharide repeat (alginate: one uronate): stanley_1987, structures.
REPEATS = {
    "kappa_carrageenan": ({"C": 12, "H": 17, "O": 12, "S": 1}, 1),
    "iota_carrageenan": ({"C": 12, "H": 16, "O": 15, "S": 2}, 2),
    "lambda_carrageenan": ({"C": 12, "H": 17, "O": 19, "S": 3}, 3),
    "sodium_alginate": ({"C": 6, "H": 7, "O": 6}, 1),
}


def cases(name: str) -> list[dict[str, str]]:
    with (CASES / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def half_last_digit(printed: str) -> float:
    exponent = Decimal(printed).as_tuple().exponent
    return 0.5 * 10.0 ** min(exponent, 0) * 1.001


def equivalent_weight(agent: str, cation: str) -> float:
    anion, charge = REPEATS[agent]
    return sum(MASS[element] * n for element, n in anion.items()) / charge + MASS[cation]


@pytest.mark.parametrize("case", cases("agents_found.csv"), ids=lambda case: case["id"])
def test_figure_is_as_printed(case):
    row = agent_rows()[case["agent"]].figure(case["property"], case["conditions"])
    scale = float(case["scale"])
    found = getattr(row, case["field"])
    tolerance = half_last_digit(case["printed"]) * scale
    assert found == pytest.approx(float(case["printed"]) * scale, abs=tolerance)
    assert row.unit == case["unit"]
    assert (row.citation.source, row.citation.locator) == (case["source"], case["locator"])
    assert row.citation.grade in SEEN


@pytest.mark.parametrize(
    ("agent", "cation", "salt"),
    [
        ("kappa_carrageenan", "Na", "sodium form"),
        ("kappa_carrageenan", "K", "potassium form"),
        ("iota_carrageenan", "Na", "sodium form"),
        ("iota_carrageenan", "K", "potassium form"),
        ("lambda_carrageenan", "Na", "sodium form"),
        ("lambda_carrageenan", "K", "potassium form"),
        ("sodium_alginate", "Na", "sodium form"),
    ],
)
def test_equivalent_weight_follows_from_atomic_masses(agent, cation, salt):
    row = agent_rows()[agent]
    expected = equivalent_weight(agent, cation)
    assert row.figure("equivalent_weight", salt).value == pytest.approx(expected, abs=0.06)
    assert row.figure("charge", salt).value == pytest.approx(1000 / expected, abs=6e-4)


@pytest.mark.parametrize(
    ("agent", "expected"),
    [("kappa_carrageenan", 23.5), ("iota_carrageenan", 37.6), ("lambda_carrageenan", 45.7)],
)
def test_ideal_sulfate_follows_from_atomic_masses(agent, expected):
    share = 100 * (MASS["S"] + 4 * MASS["O"]) / equivalent_weight(agent, "Na")
    assert share == pytest.approx(expected, abs=0.06)
    figure = agent_rows()[agent].figure("sulfate", "sodium form, as SO4")
    assert figure.value == pytest.approx(share, abs=0.06)


def test_calcium_that_alginate_takes_up_follows_from_atomic_masses():
    expected = MASS["Ca"] / 2 / equivalent_weight("sodium_alginate", "Na")
    row = agent_rows()["sodium_alginate"].figure("calcium_full_stoichiometry")
    assert row.value == pytest.approx(expected, abs=6e-5)


def test_sucrose_slope_is_the_rise_between_the_two_printed_temperatures():
    kappa = agent_rows()["kappa_carrageenan"]
    # yang_2018, abstract: 36.8 °C without sucrose, 52.8 °C at 30 wt%.
    slope = (52.8 - 36.8) / 30
    row = kappa.figure("sucrose_shift")
    assert row.value == pytest.approx(slope, abs=0.005)
    assert row.low <= slope <= row.high
    # Melting moves by about as much: 51.2 to 67.3 °C.
    assert row.low <= (67.3 - 51.2) / 30 <= row.high


def test_melting_stays_above_setting_by_the_printed_hysteresis():
    kappa = agent_rows()["kappa_carrageenan"]
    gap = kappa.figure("hysteresis")
    for sugar in ("no sucrose", "30 wt% sucrose"):
        melting = kappa.figure("melting_temperature", sugar).value
        setting = kappa.figure("setting_temperature", sugar).value
        assert gap.low <= melting - setting <= gap.high


def test_activation_energy_of_neutral_scission_is_122_kilojoules():
    kappa = agent_rows()["kappa_carrageenan"]
    # masson_1955, abstract: k = 2.75e13 exp(-29 200 / RT) per hour, R = 1.987 cal/(mol K).
    assert kappa.figure("neutral_rate_energy").value * 4.184 / 1000 == pytest.approx(122.2, abs=0.1)


def test_floor_of_the_modulus_gives_the_printed_sodium_gel():
    kappa = agent_rows()["kappa_carrageenan"]
    full = kappa.figure("modulus_at_1pct").value * 0.6 ** kappa.figure("modulus_exponent").value
    printed = kappa.figure("modulus", "0.6 %, 50 mmol/L NaCl").value
    assert full * kappa.figure("modulus_floor").value == pytest.approx(printed, abs=0.1)


def test_setting_line_passes_through_its_two_anchors():
    kappa = agent_rows()["kappa_carrageenan"]
    # rochas_1980, recalled: 7 mmol/L 20 °C for both; 100 mmol/L sets at 48 and melts at 64 °C.
    for line, hot in (("setting", 48.0), ("melting", 64.0)):
        intercept = kappa.figure(f"{line}_line_intercept").value
        slope = kappa.figure(f"{line}_line_slope").value
        assert slope / (log10(0.007) - intercept) - 273.15 == pytest.approx(20, abs=0.05)
        assert slope / (log10(0.100) - intercept) - 273.15 == pytest.approx(hot, abs=0.05)


# sheet_gelatin_2012, list of grades: Bloom from, Bloom to, grams per sheet.
@pytest.mark.parametrize(
    ("name", "low", "high", "mass"),
    [
        ("bronze", 125, 155, 3.3),
        ("silver", 160, 160, 2.5),
        ("gold", 190, 220, 2.0),
        ("platinum", 235, 265, 1.7),
    ],
)
def test_gelatin_sheets_are_as_printed(name, low, high, mass):
    grade = gelatin_grades()[name]
    assert (grade.bloom_low, grade.bloom_high, grade.sheet_mass) == (low, high, mass)
    assert grade.citation.source == "sheet_gelatin_2012"


@pytest.mark.parametrize(
    "case",
    cases("agents_swallowing_bands.csv"),
    ids=lambda case: f"{case['scale']}-{case['level']}-{case['field']}",
)
def test_swallowing_bands_are_as_printed(case):
    (band,) = [
        band
        for band in swallowing_bands()
        if (band.scale, band.level) == (case["scale"], case["level"])
    ]
    assert getattr(band, case["field"]) == float(case["printed"])
    assert (band.unit, band.citation.source) == (case["unit"], case["source"])


# cichero_2013, table 1 [mPa s].
@pytest.mark.parametrize(
    ("key", "printed"),
    [
        ("water", 1),
        ("chocolate_milk", 56),
        ("whipping_cream", 100),
        ("tomato_soup_chilled", 250),
        ("tomato_sauce", 800),
        ("chocolate_custard", 1870),
        ("pureed_peaches", 2000),
    ],
)
def test_landmarks_are_as_printed(key, printed):
    marks = {mark.key: mark for mark in viscosity_landmarks()}
    assert marks[key].viscosity == printed


# USDA Standard Reference 28, per 100 g: NDB 19177, 11663, 20027.
@pytest.mark.parametrize(
    ("agent", "ndb", "water", "protein", "carbohydrate", "potassium"),
    [
        ("gelatin", "NDB 19177", 13, 85.6, 0, 16),
        ("agar", "NDB 11663", 8.68, 6.21, 80.88, 1125),
        ("starch_corn", "NDB 20027", 8.32, 0.26, 91.27, 3),
    ],
)
def test_composition_is_as_printed(agent, ndb, water, protein, carbohydrate, potassium):
    parts = agent_rows()[agent].composition
    names = ("water_g", "protein_g", "carbohydrate_g", "potassium_mg")
    assert [parts[name].value for name in names] == [water, protein, carbohydrate, potassium]
    assert {parts[name].citation.locator for name in names} == {ndb}
