"""Measure how fast a pH is found, and how that compares with PHREEQC in the same run.

Both sides solve the same random mixtures of citric, phosphoric, lactic and acetic acid with
sodium, potassium and chloride, at 25 °C and with the same constants of the acids. PHREEQC is
asked the way its package documents: add a solution whose pH balances the charge, read the pH,
forget it. Ours is one call for 10,000 mixtures. Three comparisons:

- The goal: PHREEQC with the database that its package opens by itself, to which the acids are
  added as input. That is how anyone would use it; its ions follow other activity models.
- PHREEQC with a database of these species and no others, all after Davies. Quicker for it than
  any that it comes with, and the one in which both sides must find the same pH.
- Mixtures with calcium and magnesium, and complexes on both sides. Another task, without goal.
"""

import random
import statistics
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
from phreeqc_reference import (
    IONS,
    SEED,
    SYSTEMS,
    acids_to_add,
    constants,
    database,
    mixture,
)

from setwell.science.solution.charge_balance import ph_charge_balance
from setwell.science.solution.charge_search import Water
from setwell.science.solution.complexes import solution_equilibrium
from setwell.science.solution.ligands import Metals
from setwell.science.solution.protonation import AcidSystems

Row = tuple[str, str, bool]
MIXTURES = 10_000
# So many of them go to PHREEQC in each round.
ASKED = 300
ROUNDS = 9
LEAST_RATIO = 300.0
MOST_MS = 1.0
# Our coefficient and theirs are rounded differently, and theirs lowers the activity of water.
SAME_PH = 0.01
# Of water at 25 °C, as in the database; the coefficient is what PHREEQC works out there.
WATER = Water(13.995, 0.5095)
METALS = ("sodium", "potassium", "calcium", "magnesium")


class Mixtures:
    """Random mixtures in the form that either side wants."""

    def __init__(self, *, is_paired: bool) -> None:
        rng = random.Random(SEED)  # noqa: S311 - the same mixtures in each run
        self.is_paired = is_paired
        self.amounts = [mixture(rng, is_paired=is_paired) for _ in range(MIXTURES)]
        self.totals = self._columns(tuple(SYSTEMS))
        self.metals = self._columns(METALS)
        self.chloride = self._columns(("chloride",))[:, 0]
        self.strong = self.metals.sum(axis=1)
        self.held = Metals(self.metals, [IONS[name][1] for name in METALS], complex_constants())

    def _columns(self, names: tuple[str, ...]) -> np.ndarray:
        return np.array([[amounts[name] for name in names] for amounts in self.amounts])

    def solved(self, count: int = MIXTURES) -> np.ndarray:
        """Return our pH of the first mixtures."""
        totals, strong, chloride = self.totals[:count], self.strong[:count], self.chloride[:count]
        if self.is_paired:
            held = self.held._replace(totals=self.metals[:count])
            return solution_equilibrium(
                totals, -chloride, acids=ACIDS, metals=held, water=WATER,
                strong_ionic_strength=0.5 * chloride,
            ).ph  # fmt: skip
        return ph_charge_balance(
            totals, strong - chloride, acids=ACIDS, water=WATER,
            strong_ionic_strength=0.5 * (strong + chloride),
        ).ph  # fmt: skip


def acid_constants() -> AcidSystems:
    """Return the constants at 25 °C that PHREEQC gets too."""
    pk = np.full((len(SYSTEMS), 4), np.nan)
    for place, name in enumerate(SYSTEMS):
        steps = [r for r in constants() if r["system"] == name and not r["forms_with"]]
        for row in steps:
            # The first proton to be lost is the last one taken up.
            pk[place, len(steps) - int(row["protons"])] = float(row["log_k"])
    return AcidSystems(pk, [0] * len(SYSTEMS))


def complex_constants() -> np.ndarray:
    """Return the constants of the complexes by protons, metal and acid."""
    log_k = np.full((2, len(METALS), len(SYSTEMS)), np.nan)
    for row in constants():
        if row["forms_with"]:
            place = METALS.index(row["forms_with"]), list(SYSTEMS).index(row["system"])
            log_k[int(row["protons"]), *place] = float(row["log_k"])
    return log_k


ACIDS = acid_constants()


def taken(work: Callable[[], object]) -> float:
    """Return the seconds that one call takes."""
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def asked(engine: Any, mixtures: Mixtures) -> list[float]:  # noqa: ANN401 - it has no types
    """Return the pH that PHREEQC finds for the first mixtures."""
    elements = {name: pair[0] for name, pair in (SYSTEMS | IONS).items()}
    found = []
    for amounts in mixtures.amounts[:ASKED]:
        given = {elements[name]: amount for name, amount in amounts.items() if amount > 0}
        solution = engine.add_solution({"units": "mol/kgw", "temp": 25, "pH": "5 charge", **given})
        found.append(solution.pH)
        solution.forget()
    return found


def engine_of(text: str) -> Any:  # noqa: ANN401 - it has no types
    """Return PHREEQC with a database of our own."""
    from phreeqpython import PhreeqPython  # noqa: PLC0415 - not on every machine

    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "acids.dat").write_text(text, encoding="utf-8")
        return PhreeqPython(database="acids.dat", database_directory=Path(folder))


def shipped_engine() -> Any:  # noqa: ANN401 - it has no types
    """Return PHREEQC as it comes, with the acids added."""
    from phreeqpython import PhreeqPython  # noqa: PLC0415 - not on every machine

    engine = PhreeqPython()
    engine.ip.run_string(acids_to_add())
    return engine


def ratio_of(engine: Any, mixtures: Mixtures) -> float:  # noqa: ANN401 - it has no types
    """Return how many times longer PHREEQC takes for a mixture."""
    asked(engine, mixtures)
    # By turns, so that whatever else the machine does burdens both.
    return statistics.median(
        (taken(lambda: asked(engine, mixtures)) / ASKED)
        / (statistics.median(taken(mixtures.solved) for _ in range(3)) / MIXTURES)
        for _ in range(ROUNDS)
    )


def phreeqc_rows(plain: Mixtures, paired: Mixtures) -> list[Row]:
    """Return the comparisons, or why there are none."""
    try:
        shipped, few = shipped_engine(), engine_of(database(is_paired=False))
        pairs = engine_of(database(is_paired=True))
    except (ImportError, OSError) as error:
        return [("against PHREEQC, per mixture", f"not measured: {error}", True)]
    ratio = ratio_of(shipped, plain)
    apart = max(
        float(np.abs(mixtures.solved(ASKED) - asked(engine, mixtures)).max())
        for engine, mixtures in ((few, plain), (pairs, paired))
    )
    return [
        ("against PHREEQC, per mixture", f"{ratio:.0f} x", ratio >= LEAST_RATIO),
        ("against PHREEQC with these species only", f"{ratio_of(few, plain):.0f} x", True),
        ("against PHREEQC, with complexes", f"{ratio_of(pairs, paired):.0f} x", True),
        ("pH apart from PHREEQC, at most", f"{apart:.4f}", apart < SAME_PH),
    ]


def acid_rows() -> list[Row]:
    """Return name, figure and whether the goal is met for each measurement."""
    plain, paired = Mixtures(is_paired=False), Mixtures(is_paired=True)
    plain.solved()
    many = statistics.median(taken(plain.solved) for _ in range(15)) / MIXTURES
    one = statistics.median(taken(lambda: plain.solved(1)) for _ in range(100))
    return [
        ("pH of 10,000 mixtures, per mixture", f"{1e6 * many:.2f} us", True),
        *phreeqc_rows(plain, paired),
        ("one pH solve", f"{1000 * one:.2f} ms", 1000 * one < MOST_MS),
    ]
