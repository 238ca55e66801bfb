"""The solution tables against formulas, published values and the laws of stoichiometry."""

import csv
import math
import re
from pathlib import Path

import numpy as np
import pytest

from setwell.tables.solution import (
    acid_systems,
    chemicals,
    hardness_units,
    milk_groups,
    milk_salts,
    solutes,
    titratable_acids,
    water_constants,
)
from setwell.tables.solution.contents import ION_CHARGES

CASES = Path(__file__).parent / "cases"
# IUPAC conventional atomic masses, g/mol.
ATOM = {"H": 1.008, "B": 10.81, "C": 12.011, "O": 15.999, "Na": 22.990, "Mg": 24.305}
ATOM |= {"P": 30.974, "S": 32.06, "Cl": 35.45, "K": 39.098, "Ca": 40.078}
# Density of skim milk at 20 °C, kg/L.
MILK_DENSITY = 1.035


def cases(name: str) -> list[dict[str, str]]:
    with (CASES / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def molar_mass(formula: str) -> float:
    """Weigh a formula such as Ca(C3H5O3)2·5H2O."""
    total = 0.0
    for part in formula.split("·"):
        times, body = re.fullmatch(r"(\d*)(.*)", part).groups()
        while group := re.search(r"\(([^()]*)\)(\d*)", body):
            body = body.replace(group[0], group[1] * int(group[2] or 1), 1)
        atoms = re.findall(r"([A-Z][a-z]?)(\d*)", body)
        total += int(times or 1) * sum(ATOM[a] * int(n or 1) for a, n in atoms)
    return total


def amounts(text: str) -> dict[str, float]:
    return {name: float(value) for name, value in (part.split("=") for part in text.split())}


@pytest.mark.parametrize("row", [*acid_systems().values(), *chemicals().values()])
def test_molar_masses_follow_from_the_formula(row):
    assert row.molar_mass == pytest.approx(molar_mass(row.formula), abs=0.0006)


@pytest.mark.parametrize("chemical", chemicals().values(), ids=lambda c: c.key)
def test_chemicals_weigh_what_their_parts_weigh(chemical):
    # Ions replace protons; what is left over is water of crystals, or lost with an anhydride.
    ions = {"sodium": "Na", "potassium": "K", "calcium": "Ca", "magnesium": "Mg"}
    anions = {"chloride": ATOM["Cl"], "sulfate": molar_mass("SO4")}
    charge = sum(ION_CHARGES[ion] * moles for ion, moles in chemical.ions.items())
    parts = sum(n * acid_systems()[acid].molar_mass for acid, n in chemical.acids.items())
    parts += sum(n * (anions.get(i) or ATOM[ions[i]]) for i, n in chemical.ions.items())
    water = (chemical.molar_mass - parts + charge * ATOM["H"]) / molar_mass("H2O")
    told = re.search(r"·(\d*)H2O", chemical.formula)
    expected = int(told[1] or 1) if told else -1 if chemical.key == "glucono_delta_lactone" else 0
    assert water == pytest.approx(expected, abs=1e-3)


@pytest.mark.parametrize("chemical", chemicals().values(), ids=lambda c: c.key)
def test_cations_of_chemicals_replace_no_more_protons_than_there_are(chemical):
    charge = sum(ION_CHARGES[ion] * moles for ion, moles in chemical.ions.items())
    protons = sum(n * len(acid_systems()[acid].steps) for acid, n in chemical.acids.items())
    assert 0 <= charge <= protons


def test_equivalent_masses_follow_from_the_protons():
    printed = {"citric_anhydrous": 64.041, "citric_monohydrate": 70.046, "malic": 67.043}
    printed |= {"tartaric": 75.043, "lactic": 90.078, "acetic": 60.052}
    for key, mass in printed.items():
        assert titratable_acids()[key].equivalent_mass == pytest.approx(mass, abs=0.0015)


def test_hardness_units_follow_from_their_definitions():
    # Definitions: 10 mg/L CaO, 10 mg/L CaCO3, a grain (64.79891 mg) in a US gallon (3.785411784 L).
    expected = {
        "german_degree": 10 / molar_mass("CaO"),
        "french_degree": 10 / molar_mass("CaCO3"),
        "us_grain": 64.79891 / 3.785411784 / molar_mass("CaCO3"),
        "mg_l_caco3": 1 / molar_mass("CaCO3"),
    }
    for key, value in expected.items():
        assert hardness_units()[key].millimoles == pytest.approx(value, rel=1e-4)
    degree, grain = hardness_units()["german_degree"], hardness_units()["us_grain"]
    # A German degree is 17.85 mg/L of calcium carbonate.
    assert degree.millimoles * molar_mass("CaCO3") == pytest.approx(17.85, abs=0.005)
    assert grain.millimoles * molar_mass("CaCO3") == pytest.approx(17.12, abs=0.005)


def test_dissolved_and_colloidal_salts_make_up_the_total():
    # Fox and McSweeney 1998, Table 5.5; chloride is printed 2 mg/L apart.
    salts = milk_salts()
    for species in ("calcium", "magnesium", "sodium", "potassium", "phosphorus", "citric"):
        parts = salts[species, "dissolved"].value + salts[species, "colloidal"].value
        assert parts == pytest.approx(salts[species, "total"].value, abs=0.5)


def test_the_calcium_of_the_diffusate_adds_up_to_the_dissolved_calcium():
    # Table 5.7 (model) against Table 5.5 (measured 381 mg/L = 9.5 mmol/L).
    salts = milk_salts()
    pairs = ("calcium", "calcium_citrate", "calcium_hydrogen_phosphate")
    pairs += ("calcium_dihydrogen_phosphate",)
    total = sum(salts[pair, "in_diffusate"].value for pair in pairs)
    assert total == pytest.approx(salts["calcium", "dissolved"].value / ATOM["Ca"], rel=0.03)


def test_protons_that_colloidal_phosphate_takes_up_follow_from_its_formula():
    # Ca(HPO4)0.6(PO4)0.267 to dihydrogen phosphate: 0.6 + 2 x 0.267 protons per calcium.
    salts = milk_salts()
    single = salts["colloidal_phosphate", "hydrogen_phosphate_per_calcium"].value
    double = salts["colloidal_phosphate", "phosphate_per_calcium"].value
    calcium = salts["colloidal_phosphate", "phosphate"].value / (single + double)
    uptake = calcium * (single + 2 * double)
    group = milk_groups()["colloidal_phosphate"]
    assert group.amount * MILK_DENSITY == pytest.approx(uptake, abs=0.05)
    bound = salts["calcium", "colloidal"].value / ATOM["Ca"] - calcium
    assert salts["casein", "bound_calcium"].value == pytest.approx(bound, abs=0.1)
    # The mineral carries no charge of its own.
    assert 2 - 2 * single - 3 * double == pytest.approx(0, abs=0.01)


def protons(ph: np.ndarray) -> np.ndarray:
    """Protons held by skim milk, mol/L."""
    groups = milk_groups().values()
    held = [g.amount / (1 + 10 ** (g.slope * (ph - g.pk))) for g in groups]
    return np.sum(held, axis=0) * MILK_DENSITY / 1000


def test_milk_buffers_most_where_and_as_much_as_published():
    printed = {case["id"]: case for case in cases("milk_buffering")}
    ph = np.arange(4.0, 6.0, 0.01)
    buffer = -np.gradient(protons(ph), ph)
    for name, found in (
        ("largest-buffering", buffer.max()),
        ("ph-of-largest-buffering", ph[buffer.argmax()]),
        ("ph-hydrochloric", ph[buffer.argmax()]),
    ):
        case = printed[name]
        assert found == pytest.approx(float(case["printed"]), abs=float(case["tolerance"])), name


def test_the_constants_of_water_agree_with_other_equations():
    water = water_constants()
    for temperature, found in zip(water.davies_temperatures, water.davies_a, strict=True):
        # Malmberg and Maryott 1956, dielectric constant, recalled; A = 1.8246e6 / (eps T)^1.5.
        t, kelvin = temperature, temperature + 273.15
        eps = 87.740 - 0.40008 * t + 9.398e-4 * t**2 - 1.410e-6 * t**3
        assert found == pytest.approx(1.8246e6 / (eps * kelvin) ** 1.5, abs=2e-4)
    for temperature, found in zip(water.pkw_temperatures, water.pkw, strict=True):
        # Heat of ionization 55.8 kJ/mol, heat capacity -224 J/(mol K), pKw 13.995 at 25 °C.
        ratio = 298.15 / (temperature + 273.15)
        log_k = -55800 / 8.314462 * (ratio - 1) / 298.15
        log_k += -224 / 8.314462 * (ratio - 1 - math.log(ratio))
        assert found == pytest.approx(13.995 - log_k / math.log(10), abs=0.04)


def test_malic_acid_follows_its_published_equation():
    # Eden and Bates 1959: K1 printed as 3.48e-4 at 25 °C; pK2 = 1658.53/T - 6.2364 + 0.019353 T.
    first, second = acid_systems()["malic"].steps
    assert first.pk25 == pytest.approx(-math.log10(3.48e-4), abs=0.002)
    assert second.pk25 == pytest.approx(1658.53 / 298.15 - 6.2364 + 0.019353 * 298.15, abs=0.002)
    # dH = R ln(10) (a - c T^2), from the derivative of pK = a/T + b + c T.
    slope = 8.314462 * math.log(10) * (1658.53 - 0.019353 * 298.15**2) / 1000
    assert second.enthalpy == pytest.approx(slope, abs=0.02)


@pytest.mark.parametrize("case", cases("buffers"), ids=lambda case: case["id"])
def test_buffer_cases_are_electrically_possible(case):
    acids, ions = amounts(case["acids"]), amounts(case["ions"])
    assert set(acids) <= set(acid_systems())
    charge = sum(ION_CHARGES[ion] * value for ion, value in ions.items())
    assert 0 <= charge <= sum(n * len(acid_systems()[acid].steps) for acid, n in acids.items())
    assert case["use"] in {"yes", "no"}
    assert float(case["tolerance"]) <= 0.2
    assert all(case[column] for column in ("reason", "source", "locator"))
    assert (case["kind"] == "recalled") == ("recalled" in case["locator"])


def test_buffer_cases_are_all_there():
    ids = [case["id"] for case in cases("buffers")]
    assert len(set(ids)) == len(ids) == 145
    unsound = {case["id"] for case in cases("buffers") if case["use"] == "no"}
    assert unsound == {
        *(f"citrate-gomori-{ph}" for ph in ("3.0", "4.0", "5.0", "6.0")),
        *(f"acetate-gomori-{ph}" for ph in ("4.4", "5.4")),
    }


@pytest.mark.parametrize(
    "case",
    [c for c in cases("solids") if c["quantity"] == "water_activity" and c["solute"] == "sucrose"],
    ids=lambda case: case["id"],
)
def test_the_constant_of_sucrose_gives_its_water_activity(case):
    sucrose = solutes()["sucrose"]
    sugar = float(case["percent_by_mass"]) / sucrose.molar_mass
    water = (100 - float(case["percent_by_mass"])) / 18.015
    share = sugar / (sugar + water)
    found = (1 - share) * math.exp(-sucrose.norrish_k.value * share**2)
    assert found == pytest.approx(float(case["printed"]), abs=float(case["tolerance"]))
