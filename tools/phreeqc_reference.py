"""Write the pH of random mixtures as PHREEQC sees them, for the tests to compare with.

Needs phreeqpython, which comes with the tools for tests; run as

    python tools/phreeqc_reference.py

The constants are ours (cases/phreeqc_constants.csv), given to PHREEQC as a database of its
own, and every charged species follows Davies there as well. What is compared is thus the
solver, the bookkeeping and the ionic strength, not the constants.
"""

import csv
import math
import random
import sys
import tempfile
from importlib.metadata import version
from pathlib import Path
from typing import Any

CASES = Path(__file__).parents[1] / "tests" / "reference" / "cases"
SYSTEMS = {"citrate": ("Cit", 3), "phosphate": ("Phs", 3), "lactate": ("Lac", 1),
           "acetate": ("Ace", 1)}  # fmt: skip
IONS = {"sodium": ("Na", 1), "potassium": ("K", 1), "calcium": ("Ca", 2), "magnesium": ("Mg", 2),
        "chloride": ("Cl", -1)}  # fmt: skip
MIXTURES = 60
SEED = 20261
# No activity correction for uncharged species, as in our model.
UNCHARGED = " -gamma 0 0\n"

OPENING = """SOLUTION_MASTER_SPECIES
H H+ -1 H 1.008
H(0) H2 0 H
H(1) H+ -1 0
E e- 0 0 0
O H2O 0 O 16.0
O(0) O2 0 O
O(-2) H2O 0 0
"""
WATER = """SOLUTION_SPECIES
H+ = H+
e- = e-
H2O = H2O
H2O = OH- + H+
 log_k -13.995
 delta_h 55.8 kJ
2 H2O = O2 + 4 H+ + 4 e-
 log_k -86.08
2 H+ + 2 e- = H2
 log_k -3.15
"""


def named(element: str, charge: int) -> str:
    """Return a species name with its charge."""
    return element + (f"{'+' if charge > 0 else '-'}{abs(charge)}" if charge else "")


def constants() -> list[dict[str, str]]:
    """Return the rows of constants that the tests use too."""
    with (CASES / "phreeqc_constants.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def database(*, is_paired: bool) -> str:
    """Return a database with our species only."""
    masters, species = OPENING, WATER
    for element, charge in IONS.values():
        masters += f"{element} {named(element, charge)} 0 {element} 40\n"
        species += f"{named(element, charge)} = {named(element, charge)}\n log_k 0\n"
    acid_masters, acid_species = acids(is_paired=is_paired)
    return masters + acid_masters + species + acid_species + "END\n"


def acids_to_add() -> str:
    """Return the input that adds our acids to a database which has the ions already."""
    masters, species = acids(is_paired=False)
    return f"SOLUTION_MASTER_SPECIES\n{masters}SOLUTION_SPECIES\n{species}END\n"


def acids(*, is_paired: bool) -> tuple[str, str]:
    """Return the elements that stand for our acids, and all their species."""
    masters, species = "", ""
    taken: dict[tuple[str, int], tuple[float, float]] = {}
    for system, (element, charge) in SYSTEMS.items():
        masters += f"{element} {named(element, -charge)} 0 {element} 100\n"
        species += f"{named(element, -charge)} = {named(element, -charge)}\n log_k 0\n"
        taken[system, 0] = (0.0, 0.0)
    for row in constants():
        system, protons = row["system"], int(row["protons"])
        element, charge = SYSTEMS[system]
        log_k, enthalpy = float(row["log_k"]), float(row["enthalpy_kj_mol"])
        metal, metal_charge = IONS[row["forms_with"]] if row["forms_with"] else ("", 0)
        if metal and not is_paired:
            continue
        before = taken[system, protons - (0 if metal else 1)]
        whole = (before[0] + log_k, before[1] + enthalpy)
        if not metal:
            taken[system, protons] = whole
        left = f"{named(element, -charge)}" + (f" + {protons} H+" if protons else "")
        left += f" + {named(metal, metal_charge)}" if metal else ""
        head = metal + (f"H{protons}" if protons else "") + element
        level = metal_charge + protons - charge
        species += f"{left} = {named(head, level)}\n log_k {whole[0]}\n delta_h {whole[1]} kJ\n"
        species += "" if level else UNCHARGED
    return masters, species


def mixture(rng: random.Random, *, is_paired: bool) -> dict[str, float]:
    """Return molalities of one random mixture, with chloride for a pH of foods."""
    found = {name: 10 ** rng.uniform(-3.5, -1.2) * (rng.random() < 0.8) for name in SYSTEMS}
    found["citrate"] += 1e-3
    found["calcium"] = 10 ** rng.uniform(-4, -1.8) * is_paired
    found["magnesium"] = 10 ** rng.uniform(-4, -2) * is_paired
    # Sodium and potassium neutralize part of the acids, and come with some salt.
    acidity = 2 * found["citrate"] + 1.5 * found["phosphate"] + found["lactate"] + found["acetate"]
    base, salt = rng.uniform(0.1, 1.6) * acidity, 10 ** rng.uniform(-3, -1)
    share = rng.uniform(0.1, 0.9)
    found["chloride"] = salt + 2 * (found["calcium"] + found["magnesium"])
    found["sodium"], found["potassium"] = share * (base + salt), (1 - share) * (base + salt)
    return {name: float(f"{amount:.6g}") for name, amount in found.items()}


def solved(
    engine: Any,  # noqa: ANN401 - the package has no types
    amounts: dict[str, float],
    celsius: float,
) -> dict[str, str]:
    """Return what PHREEQC finds, after making sure that it took every component."""
    element = {name: pair[0] for name, pair in (SYSTEMS | IONS).items()}
    given = {element[name]: amount for name, amount in amounts.items() if amount > 0}
    solution = engine.add_solution(
        {"units": "mol/kgw", "temp": celsius, "pH": "5 charge", "pe": 4, **given}
    )
    for name, amount in given.items():
        taken = solution.total_element(name, units="mol")
        if not math.isclose(taken, amount, rel_tol=1e-6):
            sys.exit(f"PHREEQC has {taken} mol of {name}, not {amount}.")
    strength = solution.I
    root = math.sqrt(strength)
    log_gamma = math.log10(
        engine.ip.get_activity(solution.number, "Na+")
        / engine.ip.get_molality(solution.number, "Na+")
    )
    molalities = engine.ip.get_species_molalities(solution.number)
    # Its manual: the activity of water is 1 − 0.017 times all that is dissolved.
    dissolved = sum(amount for name, amount in molalities.items() if name != "H2O")
    free = engine.ip.get_molality(solution.number, "Ca+2") if amounts["calcium"] else 0.0
    return {
        "debye_huckel": f"{-log_gamma / (root / (1 + root) - 0.3 * strength):.5f}",
        "water_activity": f"{1 - 0.017 * dissolved:.6f}",
        "ionic_strength": f"{strength:.6f}",
        "free_calcium": f"{free:.5g}",
        "printed": f"{solution.pH:.4f}",
    }


def main() -> int:
    """Write the cases."""
    from phreeqpython import PhreeqPython  # noqa: PLC0415 - not needed to read this file

    engine_name = f"PHREEQC through phreeqpython {version('phreeqpython')}"

    rng = random.Random(SEED)  # noqa: S311 - a fixed list of mixtures, no secret
    rows = []
    with tempfile.TemporaryDirectory() as folder:
        engines = {}
        for is_paired in (False, True):
            name = f"{'pairs' if is_paired else 'plain'}.dat"
            (Path(folder) / name).write_text(database(is_paired=is_paired), encoding="utf-8")
            engines[is_paired] = PhreeqPython(database=name, database_directory=Path(folder))
        for case in range(MIXTURES):
            is_paired = case % 2 == 1
            celsius = 25.0 if case < MIXTURES // 2 else round(rng.uniform(4.0, 90.0), 1)
            amounts = mixture(rng, is_paired=is_paired)
            found = solved(engines[is_paired], amounts, celsius)
            rows.append({
                "case": str(case + 1), "is_paired": "yes" if is_paired else "no",
                "temperature_c": str(celsius), **{k: str(v) for k, v in amounts.items()},
                **found, "unit": "pH", "source": engine_name,
                "locator": f"tools/phreeqc_reference.py, seed {SEED}", "kind": "independent",
            })  # fmt: skip
    with (CASES / "phreeqc.csv").open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, list(rows[0]), lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)
    return 0


if __name__ == "__main__":
    sys.exit(main())
