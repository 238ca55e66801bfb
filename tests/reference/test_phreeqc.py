"""The acid-base solver against PHREEQC, on random mixtures with the same constants.

What is compared is the solver, the bookkeeping and the Davies equation. Both sides get the
same constants, so that nothing here says how good those are. The cases are written by
tools/phreeqc_reference.py; where PHREEQC is at hand, other mixtures go to it anew.
"""

import csv
import importlib.util
import random
from pathlib import Path
from types import ModuleType

import numpy as np
import pytest

from setwell.science.solution.charge_balance import ph_charge_balance
from setwell.science.solution.charge_search import Water
from setwell.science.solution.complexes import SolutionEquilibrium, solution_equilibrium
from setwell.science.solution.dissociation import pk_at_temperature
from setwell.science.solution.ligands import Metals
from setwell.science.solution.protonation import AcidSystems

CASES = Path(__file__).parent / "cases"
SYSTEMS = ("citrate", "phosphate", "lactate", "acetate")
METALS = {"sodium": 1, "potassium": 1, "calcium": 2, "magnesium": 2}
TOOL = Path(__file__).parents[2] / "tools" / "phreeqc_reference.py"
# Not the seed of the cases, so that the mixtures below are others.
LIVE_SEED = 411
LIVE_MIXTURES = 48


def rows(name: str) -> list[dict[str, str]]:
    with (CASES / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


ROWS = rows("phreeqc")
CONSTANTS = rows("phreeqc_constants")


def column(case: dict[str, str], names: tuple[str, ...]) -> list[float]:
    return [float(case[name]) for name in names]


def acids_of(case: dict[str, str]) -> AcidSystems:
    pk = np.full((len(SYSTEMS), 4), np.nan)
    for row in CONSTANTS:
        if not row["forms_with"]:
            system = SYSTEMS.index(row["system"])
            steps = sum(r["system"] == row["system"] and not r["forms_with"] for r in CONSTANTS)
            # The first proton to be lost is the last one taken up.
            pk[system, steps - int(row["protons"])] = pk_at_temperature(
                float(row["log_k"]),
                enthalpy=-1000 * float(row["enthalpy_kj_mol"]),
                heat_capacity=0.0,
                temperature=float(case["temperature_c"]) + 273.15,
            )
    return AcidSystems(pk, [0] * len(SYSTEMS))


def water_of(case: dict[str, str]) -> Water:
    pkw = pk_at_temperature(
        13.995, enthalpy=55.8e3, heat_capacity=0.0,
        temperature=float(case["temperature_c"]) + 273.15,
    )  # fmt: skip
    # PHREEQC lets solutes lower the activity of water, up to 0.003 in pH above 9; ours is 1.
    return Water(pkw - np.log10(float(case["water_activity"])), float(case["debye_huckel"]))


def metals_of(case: dict[str, str]) -> Metals:
    log_k = np.full((2, len(METALS), len(SYSTEMS)), np.nan)
    for row in CONSTANTS:
        if row["forms_with"]:
            metal, acid = list(METALS).index(row["forms_with"]), SYSTEMS.index(row["system"])
            log_k[int(row["protons"]), metal, acid] = float(row["log_k"])
    return Metals([column(case, tuple(METALS))], list(METALS.values()), log_k)


def solved(case: dict[str, str]) -> SolutionEquilibrium:
    chloride = float(case["chloride"])
    return solution_equilibrium(
        [column(case, SYSTEMS)], [-chloride], acids=acids_of(case), metals=metals_of(case),
        water=water_of(case), strong_ionic_strength=[0.5 * chloride],
    )  # fmt: skip


PAIRED = [case for case in ROWS if case["is_paired"] == "yes"]
PLAIN = [case for case in ROWS if case["is_paired"] == "no"]


def named(case: dict[str, str]) -> str:
    return f"{case['case']} at {case['temperature_c']} °C, pH {case['printed']}"


def test_there_are_cases_over_the_range_of_foods():
    found = [float(case["printed"]) for case in ROWS]
    assert len(PAIRED) >= 30
    assert len(PLAIN) >= 30
    assert min(found) < 3
    assert max(found) > 7
    assert {case["kind"] for case in ROWS} == {"independent"}


@pytest.mark.parametrize("case", PLAIN, ids=named)
def test_ph_of_acids_and_strong_ions(case):
    sodium, potassium, chloride = column(case, ("sodium", "potassium", "chloride"))
    found = ph_charge_balance(
        [column(case, SYSTEMS)], [sodium + potassium - chloride], acids=acids_of(case),
        water=water_of(case), strong_ionic_strength=[0.5 * (sodium + potassium + chloride)],
    )  # fmt: skip
    assert found.ph[0] == pytest.approx(float(case["printed"]), abs=0.0005)
    assert found.ionic_strength[0] == pytest.approx(float(case["ionic_strength"]), rel=2e-4)


@pytest.mark.parametrize("case", PAIRED, ids=named)
def test_ph_and_free_calcium_with_complexes(case):
    found = solved(case)
    assert found.ph[0] == pytest.approx(float(case["printed"]), abs=0.0005)
    assert found.ionic_strength[0] == pytest.approx(float(case["ionic_strength"]), rel=2e-4)
    assert found.free_metals[0, 2] == pytest.approx(float(case["free_calcium"]), rel=2e-4)


def test_complexes_matter_in_these_cases():
    # Otherwise the test above would pass without them.
    held = [1 - float(case["free_calcium"]) / float(case["calcium"]) for case in PAIRED]
    assert max(held) > 0.8
    shifts = []
    for case in PAIRED:
        strong = column(case, ("sodium", "potassium", "calcium", "magnesium", "chloride"))
        without = ph_charge_balance(
            [column(case, SYSTEMS)], [np.dot(strong, [1, 1, 2, 2, -1])], acids=acids_of(case),
            water=water_of(case), strong_ionic_strength=[0.5 * np.dot(strong, [1, 1, 4, 4, 1])],
        )  # fmt: skip
        shifts.append(float(without.ph[0]) - float(case["printed"]))
    assert max(shifts) > 0.3


def tool() -> ModuleType:
    spec = importlib.util.spec_from_file_location("phreeqc_reference", TOOL)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def live_cases(folder: Path) -> list[dict[str, str]]:
    package = pytest.importorskip("phreeqpython", reason="PHREEQC is not installed here.")
    reference, rng = tool(), random.Random(LIVE_SEED)  # noqa: S311 - a fixed list
    (folder / "pairs.dat").write_text(reference.database(is_paired=True), encoding="utf-8")
    try:
        engine = package.PhreeqPython(database="pairs.dat", database_directory=folder)
    except OSError as error:
        # The package brings libraries for the usual processors only.
        pytest.skip(f"PHREEQC does not run on this machine: {error}")
    cases = []
    for number in range(LIVE_MIXTURES):
        celsius = 25.0 if number % 2 else round(rng.uniform(4.0, 90.0), 1)
        amounts = reference.mixture(rng, is_paired=True)
        found = reference.solved(engine, amounts, celsius)
        cases.append({"temperature_c": str(celsius), **amounts, **found})
    return cases


def test_ph_of_new_mixtures_as_phreeqc_finds_it_now(tmp_path):
    cases = live_cases(tmp_path)
    theirs = np.array([float(case["printed"]) for case in cases])
    ours = np.array([solved(case).ph[0] for case in cases])
    assert len(cases) >= 40
    assert theirs.min() < 3.5
    assert theirs.max() > 6.5
    np.testing.assert_allclose(ours, theirs, rtol=0, atol=0.0005)
