"""Konjac: a thickener that gels only in alkali and heat, and then for good."""

import numpy as np

from setwell.engine.gelling.acid import loss_evidence, strength_kept
from setwell.engine.gelling.doubt import LawDoubt
from setwell.engine.gelling.firmness import gel_modulus
from setwell.engine.gelling.fracture import fracture_evidence, gel_of, strain_doubt
from setwell.engine.gelling.hydration import working
from setwell.engine.gelling.look import look_of
from setwell.engine.gelling.parameters import constant, evidence_of, parameter
from setwell.engine.gelling.state import (
    CANNOT_TELL,
    AgentInput,
    AgentState,
    Condition,
    Origins,
    SetsOn,
)
from setwell.engine.gelling.thickeners import flow_doubt, flow_evidence, thickener_flow
from setwell.engine.gelling.window import inside
from setwell.engine.spans import Spans, log_half_width

_ME = "konjac"
_ALKALI = "alkali gel"
# Stronger lye than the kitchen's limewater and carbonates ever give.
_STRONGEST_PH = 13.0
_MOST_PCT = 5.0


def konjac(agent: AgentInput) -> AgentState:
    """Return what konjac does in n batches."""
    kept = strength_kept(_ME, agent.water.ph, agent.acid)
    work = working(agent, kept)
    effective = work.effective_pct
    critical = parameter(_ME, "critical_concentration", _ALKALI)
    reference = parameter(_ME, "modulus_at_3pct", _ALKALI)
    exponent = parameter(_ME, "modulus_exponent", _ALKALI)
    modulus = gel_modulus(
        effective,
        reference=reference,
        reference_pct=3.0,
        exponent=exponent.value,
        critical=critical,
    )
    look = look_of(_ME, effective, agent.water.brix.value)
    return AgentState(
        key=_ME,
        working=work,
        critical_pct=constant(critical, len(agent.dose_pct)),
        conditions=(_alkali(agent), _heat(agent)),
        # Alkali makes the gel and cold does not: no temperature to cool below.
        sets_on=SetsOn.IONS,
        gel=gel_of(_ME, modulus),
        flow=thickener_flow(agent, effective),
        haze=look.haze,
        weeps_pct=look.weeps_pct,
        frozen=look.frozen,
        doubt=LawDoubt(
            strength=log_half_width(reference.low, reference.high),
            strain=strain_doubt(_ME),
            flow=flow_doubt(_ME),
        ),
        is_extrapolated=effective.value > _MOST_PCT,
        origins=Origins(
            hydration=work.evidence,
            gelling=evidence_of(critical, parameter(_ME, "ph_alkali_gel")),
            strength=evidence_of(reference, exponent),
            fracture=fracture_evidence(_ME),
            flow=flow_evidence(_ME),
            acid=loss_evidence(_ME),
            look=look.evidence,
        ),
        model="konjac: gel in alkali and heat only, power law with a threshold",
    )


def _alkali(agent: AgentInput) -> Condition:
    known = parameter(_ME, "ph_alkali_gel")
    ph = agent.water.ph
    holds = inside(ph, (known.low, known.high), (known.low, _STRONGEST_PH))
    return Condition("alkali", holds, ph, "pH", f"pH {known.low:g} to {known.high:g}")


def _heat(agent: AgentInput) -> Condition:
    """Return the condition that the batch was hot once; steps may not say how hot."""
    known = parameter(_ME, "alkali_gel_heat", _ALKALI)
    peak = Spans.exact(np.broadcast_to(agent.path.peak_c, agent.dose_pct.shape))
    holds = inside(peak, (known.low, np.inf), (known.low, np.inf))
    told = np.where(np.isnan(peak.value), CANNOT_TELL, holds).astype(np.int8)
    return Condition("heat", told, peak, "°C", f"{known.low:g} to {known.high:g} °C throughout")
