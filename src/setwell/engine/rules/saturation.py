"""More of a sugar, salt or acid than the water of the batch dissolves."""

from collections.abc import Iterable

import numpy as np

from setwell.engine.assessment import Severity
from setwell.engine.rules.bench import Bench, Hit
from setwell.engine.saturation import Load, loads
from setwell.tables.solution import Solubility

# A range wider than this is told in full.
_NARROW = 1.15


def saturated(bench: Bench) -> Iterable[Hit]:
    """Say when the cold water cannot hold what the figures count as dissolved."""
    water, plan = bench.state.water, bench.plan
    for load in loads(bench.state.masses, plan.materials, water.water_g, water.acidity.is_solved):
        name = load.solubility.name
        yield Hit(
            "saturated", Severity.NOTE, load.is_too_much,
            lambda row, load=load, name=name: (  # type: ignore[misc]
                f"More {name} than the water dissolves",
                f"At 20 °C (68 °F) 100 g of water hold {_held(load.solubility)}; this batch has "
                f"{_grams(load.grams[row])} g per 100 g{_counted(load)}. When cold, the rest stays "
                "as crystals; pH, ions, water activity, boiling and freezing count all of it as "
                "dissolved.",
                _advice(load, row, float(water.water_g[row])),
            ),
            _lines(bench, load), (), (load.solubility.citation,),
        )  # fmt: skip


def _held(solubility: Solubility) -> str:
    if solubility.high > _NARROW * solubility.low:
        return f"{_grams(solubility.low)} to {_grams(solubility.high)} g"
    return f"about {_grams(solubility.value)} g"


def _counted(load: Load) -> str:
    return ", without crystal water" if load.has_crystal_water else ""


def _grams(grams: float) -> str:
    return f"{grams:.0f}" if grams >= 20 else f"{grams:.1f}"


def _advice(load: Load, row: int, water_g: float) -> str:
    needed = water_g * float(load.grams[row]) / load.solubility.value
    return f"Use about {needed:.3g} g of water in all, or less {load.solubility.name}."


def _lines(bench: Bench, load: Load) -> tuple[int, ...]:
    plan = bench.plan
    rows = np.flatnonzero(plan.expansion[:, load.columns].any(axis=1))
    return tuple(plan.readings[plan.used[row]].number for row in rows)
