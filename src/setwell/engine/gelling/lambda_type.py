"""Lambda carrageenan: it thickens and never gels."""

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.acid import loss_evidence, strength_kept
from setwell.engine.gelling.hydration import hydrates, hydration_cold
from setwell.engine.gelling.parameters import evidence_of, parameter
from setwell.engine.gelling.state import NO, AgentInput, AgentState, Origins, effective_dose
from setwell.engine.spans import Spans
from setwell.science.gels.viscosity import viscosity_overlap_law

Array = NDArray[np.float64]

_ME = "lambda_carrageenan"
# Water at 20 °C [Pa·s].
_WATER_VISCOSITY = 0.0010
# Everything that is not water takes room; packing limit of a crowded liquid (Krieger-Dougherty).
_PACKING = 0.64
# Milk protein thickens along with lambda, about threefold in plain milk (recalled, no source).
_MILK_GAIN, _MILK_PROTEIN = 2.0, 0.0315
# Stirring thins it, lots differ (our judgment, no source).
_LOW_FACTOR, _HIGH_FACTOR = 0.3, 4.0
_SALTY_MMOL = 20.0


def lambda_type(agent: AgentInput) -> AgentState:
    """Return what lambda carrageenan does in n batches."""
    hydrated = hydration_cold(agent)
    kept = strength_kept(_ME, agent.water.ph, agent.acid)
    effective = effective_dose(agent.active_pct, hydrated, kept)
    fresh = parameter(_ME, "overlap_concentration", "25 °C, no added sodium")
    salted = parameter(_ME, "overlap_concentration", "25 °C, 20 mmol/L sodium")
    salt = np.clip(agent.salts["sodium"].value / _SALTY_MMOL, 0.0, 1.0)
    overlap = fresh.value + (salted.value - fresh.value) * salt
    base = _base_viscosity(agent)
    milk = np.clip(agent.water.milk_protein_share / _MILK_PROTEIN, 0.0, 1.0)
    gain = 1.0 + _MILK_GAIN * milk
    thickness = [
        viscosity_overlap_law(
            dose,
            overlap_dose=overlap,
            overlap_specific_viscosity=parameter(_ME, "overlap_specific_viscosity").value,
            solvent_viscosity=base,
            exponents=(
                parameter(_ME, "viscosity_exponent_dilute").value,
                parameter(_ME, "viscosity_exponent_entangled").value,
            ),
        )
        for dose in effective
    ]
    count = len(agent.dose_pct)
    return AgentState(
        hydrated=hydrated,
        hydrates=hydrates(hydrated),
        kept=kept,
        effective_pct=effective,
        critical_pct=None,
        sets=np.full(count, NO),
        set_c=None,
        melt_c=None,
        practice_set_c=None,
        modulus=None,
        viscosity=Spans(
            thickness[0] * gain,
            np.maximum(thickness[1] * _LOW_FACTOR, base),
            thickness[2] * gain * _HIGH_FACTOR,
        ),
        is_extrapolated=effective.value > 4.0 * overlap,
        origins=Origins(
            acid=loss_evidence(_ME),
            hydration=evidence_of(parameter(_ME, "hydration_temperature")),
            strength=evidence_of(fresh, salted, parameter(_ME, "overlap_specific_viscosity")),
        ),
        model="lambda: overlap law of random coils",
    )


def _base_viscosity(agent: AgentInput) -> Array:
    """Return the viscosity of the liquid without the gum, crowded by its solids [Pa·s]."""
    crowded = np.clip(1.0 - agent.water_share, 0.0, 0.5)
    return np.asarray(_WATER_VISCOSITY * (1.0 - crowded / _PACKING) ** (-2.5 * _PACKING))
