"""Agar: boiled, it sets far below where it melts, brittle and for good."""

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.acid import loss_evidence, strength_kept
from setwell.engine.gelling.doubt import LawDoubt
from setwell.engine.gelling.firmness import gel_modulus
from setwell.engine.gelling.fracture import fracture_evidence, gel_of, strain_doubt
from setwell.engine.gelling.hydration import working
from setwell.engine.gelling.look import look_of
from setwell.engine.gelling.parameters import Parameter, constant, evidence_of, parameter
from setwell.engine.gelling.state import AgentInput, AgentState, Gel, Origins
from setwell.engine.gelling.window import ph_condition
from setwell.engine.spans import Spans, log_half_width

Array = NDArray[np.float64]

_ME = "agar"
# Beyond this dose nobody has measured what the power law is drawn from.
_MOST_PCT = 3.0
# Sugar of the second point of the sugar curve, and from where on nothing is known [°Bx].
_SWEET_BX, _SWEETEST_BX = 60.0, 65.0


def agar(agent: AgentInput) -> AgentState:
    """Return what agar does in n batches."""
    count = len(agent.dose_pct)
    critical = parameter(_ME, "critical_concentration")
    setting = parameter(_ME, "setting_temperature", "1.5 %")
    melting = parameter(_ME, "melting_temperature")
    reference = parameter(_ME, "modulus_at_1pct")
    set_c = Spans.exact(np.full(count, setting.value))
    # It sets at the same temperature in every batch, so one will do.
    kept = strength_kept(_ME, agent.water.ph, agent.acid, set_c=set_c.value[:1])
    work = working(agent, kept)
    effective = work.effective_pct
    look = look_of(_ME, effective, agent.water.brix.value)

    def gel_at(dose: Spans) -> Gel:
        return gel_of(_ME, _modulus(dose, reference, critical, agent.water.brix))

    return AgentState(
        key=_ME,
        working=work,
        critical_pct=constant(critical, count),
        conditions=(ph_condition(agent),),
        set_c=set_c,
        melt_c=_melting(melting, agent.water.brix),
        gel=gel_at(effective),
        gel_at=gel_at,
        haze=look.haze,
        weeps_pct=look.weeps_pct,
        frozen=look.frozen,
        doubt=LawDoubt(
            strength=log_half_width(reference.low, reference.high),
            strain=strain_doubt(_ME),
            setting=(setting.high - setting.low) / 2.0,
            melting=(melting.high - melting.low) / 2.0,
        ),
        is_extrapolated=(effective.value > _MOST_PCT) | (agent.water.brix.value > _SWEETEST_BX),
        origins=Origins(
            acid=loss_evidence(_ME),
            hydration=work.evidence,
            gelling=evidence_of(critical, parameter(_ME, "ph_window")),
            setting=evidence_of(setting),
            melting=evidence_of(melting, parameter(_ME, "sugar_melting_shift")),
            strength=evidence_of(
                reference,
                parameter(_ME, "modulus_exponent"),
                *_sugar_curve(),
            ),
            fracture=fracture_evidence(_ME),
            look=look.evidence,
        ),
        model="agar: range of setting, power law with a threshold, sugar curve",
    )


def _melting(melting: Parameter, brix: Spans) -> Spans:
    """Return where the gel melts; sugar raises it."""
    shift = parameter(_ME, "sugar_melting_shift")
    return Spans(
        *(
            melting.value + slope * np.minimum(sugar, _SWEETEST_BX)
            for slope, sugar in zip(shift[:3], brix, strict=True)
        )
    )


def _modulus(effective: Spans, reference: Parameter, critical: Parameter, brix: Spans) -> Spans:
    plain = gel_modulus(
        effective,
        reference=reference,
        reference_pct=1.0,
        exponent=parameter(_ME, "modulus_exponent").value,
        critical=critical,
    )
    sweet = _sugar_gain(brix)
    return Spans(*(part * gain for part, gain in zip(plain, sweet, strict=True)))


def _sugar_curve() -> tuple[Parameter, Parameter, Parameter]:
    return (
        parameter(_ME, "best_sugar", "sucrose or fructose"),
        parameter(_ME, "sugar_gain", "at the best sugar"),
        parameter(_ME, "sugar_gain", "60 °Bx"),
    )


def _sugar_gain(brix: Spans) -> Spans:
    """Return how much stiffer sugar makes the gel: first stiffer, past the best sugar weaker."""
    best, gain, late = _sugar_curve()
    points = (0.0, best.value, _SWEET_BX)
    middle, low, high = (
        np.interp(brix.value, points, (1.0, at_best, at_most))
        for at_best, at_most in zip(gain[:3], late[:3], strict=True)
    )
    return Spans(middle, np.minimum(low, middle), np.maximum(high, middle))
