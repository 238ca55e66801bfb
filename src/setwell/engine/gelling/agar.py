"""Agar."""

import numpy as np

from setwell.engine.gelling.acid import loss_evidence, strength_kept
from setwell.engine.gelling.doubt import LawDoubt
from setwell.engine.gelling.fracture import fracture_evidence, gel_of, strain_doubt
from setwell.engine.gelling.hydration import hydrates, hydration_hot
from setwell.engine.gelling.parameters import evidence_of, parameter
from setwell.engine.gelling.state import (
    AgentInput,
    AgentState,
    Origins,
    effective_dose,
)
from setwell.engine.spans import Spans, log_half_width
from setwell.science.gels.strength import modulus_power_law

_ME = "agar"
# Boiled agar is whole from the low end of the table's range; it starts some 10 °C below.
_ONSET_BELOW_C = 10.0
# Beyond this dose nobody has measured what the power law is drawn from.
_MOST_PCT = 3.0


def agar(agent: AgentInput) -> AgentState:
    """Return what agar does in n batches."""
    window = parameter(_ME, "hydration_temperature")
    hydrated = hydration_hot(agent, onset_c=window.low - _ONSET_BELOW_C, full_c=window.value)
    count = len(agent.dose_pct)
    limits = parameter(_ME, "critical_concentration")
    setting = parameter(_ME, "setting_temperature")
    melting = parameter(_ME, "melting_temperature")
    reference = parameter(_ME, "modulus_at_1pct")
    exponent = parameter(_ME, "modulus_exponent").value
    critical = Spans(*(np.full(count, bound) for bound in limits[:3]))
    set_c = Spans.exact(np.full(count, setting.value))
    kept = strength_kept(_ME, agent.water.ph, agent.acid, set_c=set_c.value)
    effective = effective_dose(agent.active_pct, hydrated, kept)
    modulus = Spans(
        *(
            modulus_power_law(
                dose / 100.0,
                modulus_at_reference=reference.value * 1000.0,
                reference_dose=0.01,
                exponent=exponent,
            )
            for dose in effective
        )
    )
    return AgentState(
        key=_ME,
        hydrated=hydrated,
        hydrates=hydrates(hydrated),
        kept=kept,
        effective_pct=effective,
        critical_pct=critical,
        set_c=set_c,
        melt_c=Spans.exact(np.full(count, melting.value)),
        gel=gel_of(_ME, modulus),
        doubt=LawDoubt(
            strength=log_half_width(reference.low, reference.high),
            strain=strain_doubt(_ME),
            setting=(setting.high - setting.low) / 2.0,
            melting=(melting.high - melting.low) / 2.0,
        ),
        is_extrapolated=effective.value > _MOST_PCT,
        origins=Origins(
            acid=loss_evidence(_ME),
            hydration=evidence_of(window),
            gelling=evidence_of(limits),
            setting=evidence_of(setting),
            melting=evidence_of(melting),
            strength=evidence_of(reference, parameter(_ME, "modulus_exponent")),
            fracture=fracture_evidence(_ME),
        ),
        model="agar: table range of setting, power law",
    )
