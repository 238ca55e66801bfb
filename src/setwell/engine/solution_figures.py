"""The water phase of one candidate as named estimates, each with what it means."""

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from setwell.engine.assessment import NO_PH, Figure
from setwell.engine.food_materials import KITCHEN_CITATION
from setwell.engine.free_ions import binding_evidence
from setwell.engine.material import NUTRIENT_INDEX
from setwell.engine.origins import acidity_evidence, density_evidence
from setwell.engine.pipeline import BatchState
from setwell.engine.plan import Plan
from setwell.engine.rollup import Composition
from setwell.engine.solids import solids_evidence
from setwell.engine.spans import Spans
from setwell.provenance import Citation, Estimate, Evidence, Grade, evidence_join

Array = NDArray[np.float64]

_TABLES = "composition of the ingredients added up"
_IUPAC = Citation("iupac_2021", "abridged standard atomic weights, table 1", Grade.STANDARD)
_ION_LABELS = {
    "potassium": "Potassium in the water",
    "sodium": "Sodium in the water",
    "calcium": "Calcium in the water",
    "magnesium": "Magnesium in the water",
}
# Boiling and freezing of strong drinks are another matter, % vol.
_LITTLE_ALCOHOL = 1.0


class _Figures:
    """Collects the figures of one candidate."""

    def __init__(self, state: BatchState, origins: Mapping[str, Evidence], row: int) -> None:
        self.row, self.found = row, list[Figure]()
        self.unknown = state.composition.unknown[row]
        self.origins = origins

    def add(  # noqa: PLR0913 - a figure has that many sides
        self,
        key: str,
        label: str,
        spans: Spans,
        unit: str,
        *,
        model: str,
        evidence: Evidence,
        needs: str = "",
        remark: str = "",
        flags: tuple[str, ...] = (),
    ) -> None:
        """Add one figure; a nutrient it `needs` that is not fully known leaves it open above."""
        found = spans.estimate(unit=unit, model=model, evidence=evidence, flags=flags, row=self.row)
        if needs and self.unknown[NUTRIENT_INDEX[needs]]:
            flags = (*flags, "lower bound")
            found = Estimate(found.value, unit, found.low, None, model, evidence, flags)
        self.found.append(Figure(key, label, found, remark))


def solution_figures(
    plan: Plan,
    state: BatchState,
    origins: Mapping[str, Evidence],
    row: int = 0,
    *,
    is_measured: bool = False,
    ph_offset: float = 0.0,
) -> tuple[Figure, ...]:
    """Return pH, solids, sugar, alcohol, density, ions and what they do to the water."""
    figures = _Figures(state, origins, row)
    _acidity(figures, plan, state, is_measured=is_measured, offset=ph_offset)
    _bulk(figures, state)
    _water(figures, state)
    _ions(figures, plan, state)
    return tuple(figures.found)


def _acidity(
    figures: _Figures, plan: Plan, state: BatchState, *, is_measured: bool, offset: float
) -> None:
    water, row = state.water, figures.row
    evidence = acidity_evidence(plan, state, row)
    flags = _ph_flags(state, row)
    model = "charge balance of acids, buffers and salts, Davies activities"
    if is_measured:
        said = "Your reading on this version."
        figures.add(
            "ph",
            "pH, measured",
            water.ph,
            "pH",
            model="your reading",
            evidence=(KITCHEN_CITATION,),
            remark=said,
        )
        figures.add(
            "ph_computed",
            "pH, computed",
            water.acidity.ph,
            "pH",
            model=model,
            evidence=evidence,
            remark=_ph_remark(state, row),
            flags=flags,
        )
    else:
        moved = f" Moved by {offset:+.2f}, as an earlier version was measured." if offset else ""
        figures.add(
            "ph",
            "pH, computed",
            water.ph,
            "pH",
            model=model,
            evidence=(*evidence, KITCHEN_CITATION) if offset else evidence,
            remark=_ph_remark(state, row) + moved,
            flags=flags,
        )
    if not state.water.acidity.is_solved[row]:
        return
    figures.add(
        "titratable",
        "Acid by titration, as citric",
        water.solids.titratable,
        "%",
        model="base needed to pH 8.1",
        evidence=evidence,
    )


def _ph_flags(state: BatchState, row: int) -> tuple[str, ...]:
    acids = state.water.acidity
    if not acids.is_solved[row]:
        return (NO_PH,)
    return ("outside the range of the model",) if acids.is_beyond[row] else ()


def _ph_remark(state: BatchState, row: int) -> str:
    acids = state.water.acidity
    if not acids.is_solved[row]:
        return "There is too little water in this batch to speak of a pH."
    said = "Computed from the acids, buffers and salts of the ingredients; a meter settles it."
    known = float(acids.known_share[row])
    if known < 0.95:
        said += f" The pH of {100 * (1 - known):.0f} % of the batch is not known."
    if acids.is_beyond[row]:
        said += " There is more salt than the activity model is good for."
    return said


def _bulk(figures: _Figures, state: BatchState) -> None:
    composition, origins = state.composition, figures.origins
    dry = 100.0 * (1.0 - composition.share("water_g") - composition.share("alcohol_g"))
    half = _half_percent(composition, "water_g")
    fat = Spans.around(100.0 * composition.share("fat_g"), _half_percent(composition, "fat_g"))
    bulk = [origins["water_g"], origins["fat_g"], origins["carbohydrate_g"]]
    figures.add(
        "solids",
        "Solids",
        Spans.around(np.clip(dry, 0.0, None), half),
        "%",
        model=_TABLES,
        evidence=origins["water_g"],
    )
    figures.add(
        "brix",
        "Sugar in the water phase",
        state.water.brix,
        "°Brix",
        needs="sugars_g",
        model="sugars per sugars and water",
        evidence=evidence_join([origins["sugars_g"], origins["water_g"]]),
        remark="A refractometer also sees acids, salts and alcohol.",
    )
    figures.add("fat", "Fat", fat, "%", model=_TABLES, needs="fat_g", evidence=origins["fat_g"])
    figures.add(
        "alcohol",
        "Alcohol",
        state.water.alcohol_by_volume,
        "% vol",
        needs="alcohol_g",
        model="ethanol volume at 20 °C",
        remark="No loss by heating is counted.",
        evidence=origins["alcohol_g"],
    )
    figures.add(
        "density",
        "Density at 20 °C",
        state.water.density.scaled(0.001),
        "g/mL",
        model="component volumes added",
        remark="Without air bubbles.",
        evidence=evidence_join([density_evidence(state, figures.row), *bulk]),
    )


def _water(figures: _Figures, state: BatchState) -> None:
    found, row = state.water.solids, figures.row
    if not state.water.acidity.is_solved[row]:
        return
    flags = () if found.is_in_range[row] else ("outside the range of the model",)
    evidence = evidence_join([solids_evidence(), figures.origins["sugars_g"]])
    figures.add(
        "water_activity",
        "Water activity",
        found.water_activity,
        "",
        model="sugars by Norrish, ions by osmotic coefficient, joined by Ross",
        evidence=evidence,
        flags=flags,
        remark="An estimate for the kitchen: where safety depends on it, measure it.",
    )
    if float(state.water.alcohol_by_volume.value[row]) > _LITTLE_ALCOHOL:
        return
    figures.add(
        "boiling",
        "Boils at, sea level",
        found.boiling_c,
        "°C",
        model="vapor pressure at this water activity",
        evidence=evidence,
        flags=flags,
    )
    figures.add(
        "freezing",
        "Begins to freeze at",
        found.freezing_c,
        "°C",
        model="ice in balance with this water activity",
        evidence=evidence,
        flags=flags,
    )


def _ions(figures: _Figures, plan: Plan, state: BatchState) -> None:
    water, origins = state.water, figures.origins
    if not water.acidity.is_solved[figures.row]:
        return
    for mineral, label in _ION_LABELS.items():
        figures.add(
            mineral,
            label,
            water.free.dissolved[mineral],
            "mmol/kg water",
            needs=f"{mineral}_mg",
            model="dissolved share of the minerals",
            evidence=evidence_join([(_IUPAC,), origins[f"{mineral}_mg"]]),
        )
    held = 100.0 * float(water.free.calcium_held[figures.row])
    figures.add(
        "free_calcium",
        "Free calcium",
        water.free.calcium,
        "mmol/kg water",
        model="milk salts, citrate and phosphate hold the rest",
        evidence=evidence_join([binding_evidence(), origins["calcium_mg"]]),
        remark=f"About {held:.0f} % of the dissolved calcium is held."
        if held >= 1
        else "No acid or milk here holds calcium.",
    )
    # Acids hold potassium weakly: the row is there only where it says something.
    if water.free.potassium.value[figures.row] < 0.99 * water.ions["potassium"].value[figures.row]:
        figures.add(
            "free_potassium",
            "Free potassium",
            water.free.potassium,
            "mmol/kg water",
            needs="potassium_mg",
            model="citrate holds the rest",
            evidence=evidence_join([binding_evidence(), origins["potassium_mg"]]),
        )
    figures.add(
        "ionic_strength",
        "Ionic strength",
        water.acidity.ionic_strength_range(),
        "mol/kg water",
        model="all charges of the water phase",
        evidence=evidence_join(
            [
                (_IUPAC,),
                acidity_evidence(plan, state, figures.row),
                *(origins[f"{mineral}_mg"] for mineral in _ION_LABELS),
            ]
        ),
    )


def _half_percent(composition: Composition, nutrient: str) -> Array:
    half = composition.half_width[:, NUTRIENT_INDEX[nutrient]]
    finished = composition.finished_g
    return 100.0 * np.divide(half, finished, out=np.zeros_like(half), where=finished > 0)
