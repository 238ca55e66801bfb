"""Lambda carrageenan: it thickens and never gels."""

import numpy as np

from setwell.engine.gelling.acid import strength_kept
from setwell.engine.gelling.hydration import hydrates, hydration_cold
from setwell.engine.gelling.parameters import evidence_of, parameter
from setwell.engine.gelling.state import NO, AgentInput, AgentState, Origins, effective_dose
from setwell.engine.spans import Spans
from setwell.science.gels.viscosity import viscosity_overlap_law

_ME = "lambda_carrageenan"
# Water at 20 °C [Pa·s]; milk and sugar raise it, which the range covers.
_WATER_VISCOSITY = 0.0010
# Milk protein thickens along with lambda; stirring and salts thin it (our judgment, no source).
_LOW_FACTOR, _HIGH_FACTOR = 0.3, 4.0
_SALTY_MMOL = 20.0


def lambda_type(agent: AgentInput) -> AgentState:
    """Return what lambda carrageenan does in n batches."""
    hydrated = hydration_cold(agent)
    kept = strength_kept(agent, sensitivity=0.4)
    effective = effective_dose(agent.active_pct, hydrated, kept)
    fresh = parameter(_ME, "overlap_concentration", "25 °C, no added sodium")
    salted = parameter(_ME, "overlap_concentration", "25 °C, 20 mmol/L sodium")
    salt = np.clip(agent.salts["sodium"].value / _SALTY_MMOL, 0.0, 1.0)
    overlap = fresh.value + (salted.value - fresh.value) * salt
    thickness = [
        viscosity_overlap_law(
            dose,
            overlap_dose=overlap,
            overlap_specific_viscosity=parameter(_ME, "overlap_specific_viscosity").value,
            solvent_viscosity=_WATER_VISCOSITY,
            exponents=(
                parameter(_ME, "viscosity_exponent_dilute").value,
                parameter(_ME, "viscosity_exponent_entangled").value,
            ),
        )
        for dose in effective
    ]
    floor = np.full_like(thickness[0], _WATER_VISCOSITY)
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
            thickness[0],
            np.maximum(thickness[1] * _LOW_FACTOR, floor),
            thickness[2] * _HIGH_FACTOR,
        ),
        is_extrapolated=effective.value > 4.0 * overlap,
        origins=Origins(
            hydration=evidence_of(parameter(_ME, "hydration_temperature")),
            strength=evidence_of(fresh, salted, parameter(_ME, "overlap_specific_viscosity")),
        ),
        model="lambda: overlap law of random coils",
    )
