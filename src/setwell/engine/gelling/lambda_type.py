"""Lambda carrageenan: it thickens and never gels."""

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.acid import loss_evidence, strength_kept
from setwell.engine.gelling.doubt import LawDoubt
from setwell.engine.gelling.hydration import hydrates, hydration_cold
from setwell.engine.gelling.liquid import base_viscosity, coil_flow
from setwell.engine.gelling.parameters import evidence_of, parameter
from setwell.engine.gelling.state import AgentInput, AgentState, Origins, SetsOn, effective_dose
from setwell.engine.spans import Spans
from setwell.science.flow.coils import viscosity_overlap_law

Array = NDArray[np.float64]

_ME = "lambda_carrageenan"
# Milk protein thickens along with lambda, about threefold in plain milk (recalled, no source).
_MILK_GAIN, _MILK_PROTEIN = 2.0, 0.0315
# Lots differ, and so do kitchens: a factor of four either way (our judgment, no source).
_FLOW_DOUBT = float(np.log(4.0))
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
    base = base_viscosity(agent.water_share)
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
    return AgentState(
        key=_ME,
        hydrated=hydrated,
        hydrates=hydrates(hydrated),
        kept=kept,
        effective_pct=effective,
        sets_on=SetsOn.NOTHING,
        flow=coil_flow(Spans(*(part * gain for part in thickness)), base),
        doubt=LawDoubt(flow=_FLOW_DOUBT),
        is_extrapolated=effective.value > 4.0 * overlap,
        origins=Origins(
            acid=loss_evidence(_ME),
            hydration=evidence_of(parameter(_ME, "hydration_temperature")),
            flow=evidence_of(fresh, salted, parameter(_ME, "overlap_specific_viscosity")),
        ),
        model="lambda: overlap law of random coils",
    )
