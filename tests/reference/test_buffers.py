"""The pH solver with the shipped constants against buffers, milk and juice of known pH."""

import csv
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from setwell.science.solution.charge_balance import ChargeBalance, ph_charge_balance
from setwell.science.solution.charge_search import Water
from setwell.science.solution.complexes import SolutionEquilibrium, solution_equilibrium
from setwell.science.solution.dissociation import pk_at_temperature
from setwell.science.solution.ligands import Metals
from setwell.science.solution.protonation import AcidSystems
from setwell.tables.solution import acid_systems, complexes, water_constants
from setwell.tables.solution.contents import ION_CHARGES

CASES = Path(__file__).parent / "cases"
ACIDS = tuple(acid_systems())
KELVIN = 273.15
with (CASES / "buffers.csv").open(encoding="utf-8", newline="") as file:
    ROWS = list(csv.DictReader(file))
SOUND = [row for row in ROWS if row["use"] == "yes"]
UNSOUND = [row for row in ROWS if row["use"] == "no"]


def named(row: dict[str, str]) -> str:
    return row["id"]


@cache
def acids_at(celsius: float) -> AcidSystems:
    pk = np.full((len(ACIDS), 4), np.nan)
    for place, acid in enumerate(acid_systems().values()):
        for number, step in enumerate(acid.steps):
            pk[place, number] = pk_at_temperature(
                step.pk25, enthalpy=1000 * (step.enthalpy or 0.0),
                heat_capacity=step.heat_capacity or 0.0, temperature=celsius + KELVIN,
            )  # fmt: skip
    return AcidSystems(pk, [acid.charges[0] for acid in acid_systems().values()])


def water_at(celsius: float) -> Water:
    table = water_constants()
    return Water(
        pkw=np.interp(celsius, table.pkw_temperatures, table.pkw),
        debye_huckel=np.interp(celsius, table.davies_temperatures, table.davies_a),
    )


def amounts(text: str) -> dict[str, float]:
    return {name: float(value) for name, value in (part.split("=") for part in text.split())}


def solved(row: dict[str, str]) -> ChargeBalance:
    acids, ions = amounts(row["acids"]), amounts(row["ions"])
    charge = np.array([ION_CHARGES[ion] for ion in ions])
    molal = np.array(list(ions.values()))
    return ph_charge_balance(
        [[acids.get(name, 0.0) for name in ACIDS]], [float(charge @ molal)],
        acids=acids_at(float(row["temperature_c"])), water=water_at(float(row["temperature_c"])),
        strong_ionic_strength=[0.5 * float(charge**2 @ molal)],
    )  # fmt: skip


@pytest.mark.parametrize("row", SOUND, ids=named)
def test_buffers_have_the_ph_of_the_table(row):
    found = float(solved(row).ph[0])
    assert found == pytest.approx(float(row["printed"]), abs=float(row["tolerance"]))


# As close as each family is known to come, tighter than what single rows are allowed.
@pytest.mark.parametrize(
    ("family", "count", "most", "rms"),
    [
        ("nist-", 69, 0.026, 0.012),
        ("acetate-", 18, 0.056, 0.05),
        ("citrate-", 16, 0.08, 0.05),
        ("phosphate-", 8, 0.03, 0.02),
        ("mcilvaine-", 28, 0.2, 0.14),
    ],
)
def test_families_of_buffers_keep_close_as_a_whole(family, count, most, rms):
    off = np.array([
        float(solved(row).ph[0]) - float(row["printed"])
        for row in SOUND if row["id"].startswith(family)
    ])  # fmt: skip
    assert len(off) == count
    assert np.abs(off).max() < most
    assert np.sqrt(np.mean(off**2)) < rms


@pytest.mark.parametrize("row", UNSOUND, ids=named)
def test_misprinted_rows_are_off_as_their_remark_says(row):
    off = abs(float(solved(row).ph[0]) - float(row["printed"]))
    assert off > float(row["tolerance"])


def test_mcilvaine_mixtures_beyond_the_model_are_flagged():
    rows = [row for row in SOUND if row["id"].startswith("mcilvaine-")]
    flags = {row["printed"]: bool(solved(row).is_beyond_model[0]) for row in rows}
    assert not flags["3.0"]
    assert flags["8.0"]


# Millimoles per liter of milk diffusate, all forms of each together; Fox and McSweeney 1998,
# table 5.7, after Holt, Dalgleish and Jenness 1981.
DIFFUSATE = {
    "calcium": 2.00 + 6.96 + 0.59 + 0.07, "magnesium": 0.81 + 2.02 + 0.34,
    "sodium": 20.92 + 0.39, "potassium": 36.29 + 0.52,
}  # fmt: skip
DIFFUSATE_ACIDS = {
    "citric": 0.26 + 0.04 + 6.96 + 2.02, "carbonic": 0.32 + 0.11, "acetic": 2.98,
    "phosphoric": 7.50 + 2.65 + 0.59 + 0.07 + 0.34 + 0.39 + 0.52,
}  # fmt: skip


# The table's own charges do not close: 62.9 of cations, 59.7 of anions, in mmol/L. The rest
# is given to an anion without a name, or the buffers, 7 mmol/L for one pH, would have to.
CATIONS = 2 * (2.00 + 0.81) + 20.92 + 36.29 + 0.07
ANIONS = (
    30.90 + 7.50 + 2 * 2.65 + 3 * 0.26 + 2 * 0.04 + 6.96 + 2.02 + 0.39 + 0.52 + 2.98 + 0.32
    + 2 * 0.96
)  # fmt: skip


@cache
def diffusate() -> SolutionEquilibrium:
    """Solve the diffusate at 25 °C; unnamed carboxylates are taken as acetate."""
    layers = np.full((3, len(DIFFUSATE), len(ACIDS)), np.nan)
    for row in complexes():
        system = acid_systems()[row.acid]
        place = list(DIFFUSATE).index(row.cation), ACIDS.index(row.acid)
        layers[row.charge - system.charges[-1], *place] = row.log_k
    single, sulfate = (30.9 + CATIONS - ANIONS) / 1000, 0.96 / 1000
    return solution_equilibrium(
        [[DIFFUSATE_ACIDS.get(name, 0.0) / 1000 for name in ACIDS]], [-single - 2 * sulfate],
        acids=acids_at(25.0), water=water_at(25.0),
        metals=Metals([[v / 1000 for v in DIFFUSATE.values()]], [2, 2, 1, 1], layers),
        strong_ionic_strength=[0.5 * (single + 4 * sulfate)],
    )  # fmt: skip


def test_milk_diffusate_has_the_published_ph_and_ionic_strength():
    # Fox and McSweeney 1998: 0.08 mol/L on p. 254, while the ions of table 5.7 add up to 0.0685.
    assert 0.0685 < diffusate().ionic_strength[0] < 0.08
    # Milk: 6.6 to 6.8.
    assert diffusate().ph[0] == pytest.approx(6.7, abs=0.15)


def test_milk_diffusate_has_the_published_free_ions():
    # Table 5.7: free calcium 2.0, magnesium 0.81, sodium 20.9, potassium 36.3 mmol/L.
    found = dict(zip(DIFFUSATE, 1000 * diffusate().free_metals[0], strict=True))
    assert found["calcium"] == pytest.approx(2.0, abs=0.4)
    assert found["magnesium"] == pytest.approx(0.81, abs=0.3)
    assert found["sodium"] == pytest.approx(20.9, abs=0.5)
    assert found["potassium"] == pytest.approx(36.3, abs=0.5)
