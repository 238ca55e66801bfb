"""Nutrients and solution figures of one candidate as estimates."""

import numpy as np
from numpy.typing import NDArray

from setwell.engine.assessment import BatchSize, Figure, NutrientFigure
from setwell.engine.material import NUTRIENT_INDEX
from setwell.engine.origins import acidity_evidence, nutrient_evidence
from setwell.engine.pipeline import BatchState
from setwell.engine.plan import Plan
from setwell.engine.rollup import Composition
from setwell.engine.spans import Spans
from setwell.provenance import Citation, Estimate, Evidence, Grade, evidence_join
from setwell.tables.foods import NUTRIENTS
from setwell.tables.heat import component_densities, spirit_densities

Array = NDArray[np.float64]

_TABLES = "composition of the ingredients added up"
_IUPAC = Citation("iupac_2021", "abridged standard atomic weights, table 1", Grade.STANDARD)
_ION_LABELS = {
    "potassium": "Potassium in the water",
    "sodium": "Sodium in the water",
    "calcium": "Calcium in the water",
    "magnesium": "Magnesium in the water",
}


def nutrient_figures(plan: Plan, state: BatchState, row: int = 0) -> tuple[NutrientFigure, ...]:
    """Return nutrients per 100 g and per batch; partly unknown ones as lower bounds.

    A nutrient that no ingredient has a figure for is left out altogether.
    """
    origins = nutrient_evidence(plan, state, row)
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


def solution_figures(plan: Plan, state: BatchState, row: int = 0) -> tuple[Figure, ...]:
    """Return solids, sugar, alcohol, density, ions and pH of one candidate."""
    origins = nutrient_evidence(plan, state, row)
    water = state.water
    composition = state.composition
    unknown = composition.unknown[row]

    def figure(key: str, label: str, spans: Spans, unit: str, *, model: str, needs: str,
               evidence: Evidence, remark: str = "") -> Figure:  # fmt: skip
        estimate = spans.estimate(unit=unit, model=model, evidence=evidence, row=row)
        if needs and unknown[NUTRIENT_INDEX[needs]]:
            estimate = Estimate(estimate.value, unit, estimate.low, None, model,
                                estimate.evidence, ("lower bound",))  # fmt: skip
        return Figure(key, label, estimate, remark)

    water_pct = 100.0 * composition.share("water_g")
    alcohol_pct = 100.0 * composition.share("alcohol_g")
    half = _half_percent(composition, "water_g")
    solids = Spans.around(np.clip(100.0 - water_pct - alcohol_pct, 0.0, None), half)
    fat = Spans.around(100.0 * composition.share("fat_g"), _half_percent(composition, "fat_g"))
    bulk = evidence_join([origins["water_g"], origins["fat_g"], origins["carbohydrate_g"]])
    known = float(water.ph_known_share[row])
    figures = [
        figure("ph", "pH, first estimate", water.ph, "pH", needs="",
               model="buffers of the ingredients in balance",
               remark=_ph_remark(known), evidence=acidity_evidence(plan, state, row)),
        figure("solids", "Solids", solids, "%", model=_TABLES, needs="",
               evidence=origins["water_g"]),
        figure("brix", "Sugar in the water phase", water.brix, "°Brix", needs="sugars_g",
               model="sugars per sugars and water",
               evidence=evidence_join([origins["sugars_g"], origins["water_g"]]),
               remark="A refractometer also sees acids, salts and alcohol."),
        figure("fat", "Fat", fat, "%", model=_TABLES, needs="fat_g",
               evidence=origins["fat_g"]),
        figure("alcohol", "Alcohol", water.alcohol_by_volume, "% vol", needs="alcohol_g",
               model="ethanol volume at 20 °C", remark="No loss by heating is counted.",
               evidence=origins["alcohol_g"]),
        figure("density", "Density at 20 °C", water.density.scaled(0.001), "g/mL", needs="",
               model="component volumes added",
               evidence=evidence_join([_density_evidence(state, row), bulk]),
               remark="Without air bubbles."),
    ]  # fmt: skip
    for mineral in ("potassium", "sodium", "calcium", "magnesium"):
        figures.append(
            figure(mineral, _ION_LABELS[mineral], water.ions[mineral], "mmol/kg water",
                   needs=f"{mineral}_mg", model="dissolved share of the minerals",
                   evidence=evidence_join([(_IUPAC,), origins[f"{mineral}_mg"]]))
        )  # fmt: skip
    return tuple(figures)


def _density_evidence(state: BatchState, row: int) -> Evidence:
    """The component densities, and those of spirits where there is alcohol."""
    parts = [(density.citation,) for density in component_densities().values()]
    if state.composition.of("alcohol_g")[row] > 0:
        parts += [(density.citation,) for density in spirit_densities()]
    return evidence_join(parts)


def _half_percent(composition: Composition, nutrient: str) -> Array:
    half = composition.half_width[:, NUTRIENT_INDEX[nutrient]]
    finished = composition.finished_g
    return 100.0 * np.divide(half, finished, out=np.zeros_like(half), where=finished > 0)


def _ph_remark(known: float) -> str:
    said = "An estimate from the ingredients' usual pH and buffering: a strip or meter settles it."
    if known < 0.95:
        said += f" The pH of {100 * (1 - known):.0f} % of the batch is not known."
    return said


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
        _density_evidence(state, row),
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
