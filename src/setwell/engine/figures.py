"""Nutrients and weights of one candidate as estimates."""

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from setwell.engine.assessment import BatchSize, NutrientFigure
from setwell.engine.material import NUTRIENT_INDEX
from setwell.engine.origins import density_evidence
from setwell.engine.pipeline import BatchState
from setwell.engine.plan import Plan
from setwell.provenance import Estimate, Evidence
from setwell.tables.foods import NUTRIENTS

Array = NDArray[np.float64]

_TABLES = "composition of the ingredients added up"


def nutrient_figures(
    plan: Plan, state: BatchState, origins: Mapping[str, Evidence], row: int = 0
) -> tuple[NutrientFigure, ...]:
    """Return nutrients per 100 g and per batch; partly unknown ones as lower bounds.

    `origins` are the citations of each nutrient. A nutrient that no ingredient has a figure for
    is left out altogether.
    """
    amount, half = state.composition.amount[row], state.composition.half_width[row]
    finished = float(state.composition.finished_g[row])
    scale = 100.0 / finished if finished > 0 else 0.0
    figures = []
    for nutrient in NUTRIENTS:
        index = NUTRIENT_INDEX[nutrient.key]
        if all(np.isnan(material.nutrients[index]) for material in plan.materials):
            continue
        missing = _unknown_in(plan, state, index, row)
        evidence = origins[nutrient.key]
        figures.append(
            NutrientFigure(
                nutrient.key,
                nutrient.label,
                _estimate(amount[index] * scale, half[index] * scale, nutrient.unit, missing,
                          evidence),
                _estimate(amount[index], half[index], nutrient.unit, missing, evidence),
                missing,
            )
        )  # fmt: skip
    return tuple(figures)


def _unknown_in(plan: Plan, state: BatchState, index: int, row: int) -> tuple[str, ...]:
    if not state.composition.unknown[row, index]:
        return ()
    return tuple(
        material.name
        for material, mass in zip(plan.materials, state.masses[row], strict=True)
        if np.isnan(material.nutrients[index]) and mass != 0
    )


def _estimate(
    value: float, half: float, unit: str, missing: tuple[str, ...], evidence: Evidence
) -> Estimate:
    low = max(float(value) - float(half), 0.0)
    high = None if missing else float(value) + float(half)
    flags = ("lower bound",) if missing else ()
    return Estimate(float(value), unit, low, high, _TABLES, evidence, flags)


def batch_size(plan: Plan, state: BatchState, row: int = 0) -> BatchSize:
    """Return the weights of the batch, its volume and its portions."""
    formula = plan.formula
    finished = float(state.composition.finished_g[row])
    usable = finished * (1.0 - formula.loss_pct / 100.0)
    density = state.water.density
    volume = Estimate(
        usable / float(density.value[row]) * 1000.0,
        "mL",
        usable / float(density.high[row]) * 1000.0,
        usable / float(density.low[row]) * 1000.0,
        "weight over density",
        density_evidence(state, row),
    )
    portions = formula.portions or (formula.molds.count if formula.molds else None)
    return BatchSize(
        ingredients_g=float(state.composition.ingredients_g[row]),
        finished_g=finished,
        usable_g=usable,
        volume_ml=volume if finished > 0 else None,
        portions=portions,
        portion_g=usable / portions if portions and finished > 0 else None,
    )
