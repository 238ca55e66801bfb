"""Gelatin of cold-water fish: sets only in the fridge and melts in a cool room."""

import numpy as np

from setwell.engine.gelling.acid import loss_evidence, strength_kept
from setwell.engine.gelling.doubt import LawDoubt
from setwell.engine.gelling.firmness import gel_modulus
from setwell.engine.gelling.fracture import fracture_evidence, gel_of, strain_doubt
from setwell.engine.gelling.gelatin_water import water_conditions, weakening
from setwell.engine.gelling.hydration import working
from setwell.engine.gelling.look import look_of
from setwell.engine.gelling.maturing import matured, maturing_figures
from setwell.engine.gelling.parameters import constant, evidence_of, parameter
from setwell.engine.gelling.state import AgentInput, AgentState, Origins
from setwell.engine.spans import Spans, log_half_width

_ME, _KIN = "gelatin_fish_cold", "gelatin"
# Dose and temperature where its firmness is known, and the dose its temperatures are for.
_REFERENCE_PCT, _REFERENCE_C = 10.0, 4.0
_DOSES_PCT = (1.0, 15.0)


def fish_gelatin(agent: AgentInput) -> AgentState:
    """Return what cold-water fish gelatin does in n batches."""
    kept = strength_kept(_KIN, agent.water.ph, agent.acid)
    work = working(agent, kept)
    effective = work.effective_pct
    critical = parameter(_ME, "critical_concentration")
    reference = parameter(_ME, "modulus_at_10pct", "4 °C")
    exponent = parameter(_ME, "modulus_exponent")
    setting, melting = (parameter(_ME, f"{name}_temperature") for name in ("setting", "melting"))
    set_c, melt_c = _with_dose(effective, setting.value), _with_dose(effective, melting.value)
    plain = gel_modulus(
        effective,
        reference=reference,
        reference_pct=_REFERENCE_PCT,
        exponent=exponent.value,
        critical=critical,
    )
    factors = zip(plain, matured(agent, set_c), weakening(agent), strict=True)
    look = look_of(_ME, effective, agent.water.brix.value)
    return AgentState(
        key=_ME,
        working=work,
        critical_pct=constant(critical, len(agent.dose_pct)),
        conditions=water_conditions(agent),
        set_c=set_c,
        melt_c=melt_c,
        gel=gel_of(_ME, Spans(*(part * ripe * weak for part, ripe, weak in factors))),
        reference_c=_REFERENCE_C,
        haze=look.haze,
        weeps_pct=look.weeps_pct,
        frozen=look.frozen,
        doubt=LawDoubt(
            strength=log_half_width(reference.low, reference.high),
            strain=strain_doubt(_ME),
            setting=(setting.high - setting.low) / 2.0,
            melting=(melting.high - melting.low) / 2.0,
        ),
        is_extrapolated=(effective.value < _DOSES_PCT[0]) | (effective.value > _DOSES_PCT[1]),
        origins=Origins(
            acid=loss_evidence(_KIN),
            hydration=work.evidence,
            gelling=evidence_of(critical),
            setting=evidence_of(setting, parameter(_KIN, "melting_dose_rise")),
            melting=evidence_of(melting, parameter(_KIN, "melting_dose_rise")),
            strength=evidence_of(reference, exponent, *maturing_figures()),
            fracture=fracture_evidence(_ME),
            look=look.evidence,
        ),
        model="fish gelatin: table range moved with the dose, power law, matured in the cold",
    )


def _with_dose(effective: Spans, at_reference_c: float) -> Spans:
    """Return a temperature known at 10 %, lower for thinner gels as with any gelatin."""
    rise = parameter(_KIN, "melting_dose_rise").value
    return Spans(
        *(
            at_reference_c + rise * np.log10(np.maximum(dose, 0.1) / _REFERENCE_PCT)
            for dose in effective
        )
    )
