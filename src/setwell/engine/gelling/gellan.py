"""Gellan, low and high in acyl groups: brittle by ions, or soft and elastic without."""

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.acid import loss_evidence, strength_kept
from setwell.engine.gelling.doubt import LawDoubt
from setwell.engine.gelling.firmness import gel_modulus
from setwell.engine.gelling.fracture import fracture_evidence, gel_of, strain_doubt
from setwell.engine.gelling.gellan_ions import (
    gellan_ions,
    ion_condition,
    ion_factor,
    ion_figures,
    melting_c,
    melting_figures,
    setting_c,
    setting_figures,
    stretch,
    stretch_figures,
    total_cations,
)
from setwell.engine.gelling.hydration import working
from setwell.engine.gelling.look import look_of
from setwell.engine.gelling.parameters import Parameter, constant, evidence_of, parameter
from setwell.engine.gelling.state import AgentInput, AgentState, Origins
from setwell.engine.gelling.window import ph_condition
from setwell.engine.spans import Spans, log_half_width

Array = NDArray[np.float64]

_LOW, _HIGH = "gellan_LA", "gellan_HA"
# The cation line is drawn for these totals [mol/kg], and for less sugar than this [°Bx].
_LINE_RANGE, _SWEETEST_BX = (0.005, 0.3), 60.0
_MOST_PCT = 1.5


def gellan_low_acyl(agent: AgentInput) -> AgentState:
    """Return what low-acyl gellan does in n batches."""
    cations, ions = total_cations(agent), gellan_ions(agent)
    set_c = setting_c(cations)
    kept = strength_kept(_LOW, agent.water.ph, agent.acid, set_c=set_c.value)
    work = working(agent, kept)
    effective = work.effective_pct
    reference, critical = _firmness(_LOW, "best calcium")
    plain = _modulus(_LOW, effective, reference, critical)
    factor = ion_factor(ions)
    modulus = Spans(*(part * share for part, share in zip(plain, factor, strict=True)))
    strain = parameter(_LOW, "fracture_strain")
    look = look_of(_LOW, effective, agent.water.brix.value)
    error = parameter(_LOW, "setting_temperature_error").value
    calcium = parameter(_LOW, "melting_temperature", "calcium gels")
    return AgentState(
        key=_LOW,
        working=work,
        critical_pct=constant(critical, len(agent.dose_pct)),
        conditions=(ion_condition(ions), ph_condition(agent)),
        set_c=set_c,
        melt_c=melting_c(agent, set_c),
        gel=gel_of(_LOW, modulus, strain=stretch(ions).scaled(strain.value)),
        haze=look.haze,
        weeps_pct=look.weeps_pct,
        frozen=look.frozen,
        doubt=LawDoubt(
            strength=log_half_width(reference.low, reference.high),
            strain=strain_doubt(_LOW),
            setting=error,
            melting=(calcium.high - calcium.low) / 2.0,
        ),
        is_extrapolated=(effective.value > _MOST_PCT)
        | (cations.value < _LINE_RANGE[0])
        | (cations.value > _LINE_RANGE[1])
        | (agent.water.brix.value > _SWEETEST_BX),
        origins=Origins(
            acid=loss_evidence(_LOW),
            hydration=work.evidence,
            gelling=evidence_of(critical, parameter(_LOW, "ph_window"), *ion_figures()),
            setting=evidence_of(*setting_figures()),
            melting=evidence_of(*setting_figures(), *melting_figures()),
            strength=evidence_of(reference, parameter(_LOW, "modulus_exponent"), *ion_figures()),
            fracture=(*fracture_evidence(_LOW), *evidence_of(*stretch_figures())),
            look=look.evidence,
        ),
        model="low-acyl gellan: line of all cations, power law with an optimum of ions",
    )


def gellan_high_acyl(agent: AgentInput) -> AgentState:
    """Return what high-acyl gellan does in n batches; ions hardly matter."""
    count = len(agent.dose_pct)
    setting = parameter(_HIGH, "setting_temperature")
    melting = parameter(_HIGH, "melting_temperature")
    set_c = Spans.exact(np.full(count, setting.value))
    # It sets at the same temperature in every batch, so one will do.
    kept = strength_kept(_HIGH, agent.water.ph, agent.acid, set_c=set_c.value[:1])
    work = working(agent, kept)
    effective = work.effective_pct
    reference, critical = _firmness(_HIGH, "")
    look = look_of(_HIGH, effective, agent.water.brix.value)
    return AgentState(
        key=_HIGH,
        working=work,
        critical_pct=constant(critical, count),
        conditions=(ph_condition(agent),),
        set_c=set_c,
        melt_c=Spans.exact(np.full(count, melting.value)),
        gel=gel_of(_HIGH, _modulus(_HIGH, effective, reference, critical)),
        haze=look.haze,
        weeps_pct=look.weeps_pct,
        frozen=look.frozen,
        doubt=LawDoubt(
            strength=log_half_width(reference.low, reference.high),
            strain=strain_doubt(_HIGH),
            setting=(setting.high - setting.low) / 2.0,
            melting=(melting.high - melting.low) / 2.0,
        ),
        is_extrapolated=(effective.value > 1.0) | (agent.water.brix.value > _SWEETEST_BX),
        origins=Origins(
            acid=loss_evidence(_HIGH),
            hydration=work.evidence,
            gelling=evidence_of(critical, parameter(_HIGH, "ph_window")),
            setting=evidence_of(setting),
            melting=evidence_of(melting),
            strength=evidence_of(reference, parameter(_HIGH, "modulus_exponent")),
            fracture=fracture_evidence(_HIGH),
            look=look.evidence,
        ),
        model="high-acyl gellan: range of setting, power law with a threshold",
    )


def _firmness(key: str, conditions: str) -> tuple[Parameter, Parameter]:
    return (
        parameter(key, "modulus_at_1pct", conditions),
        parameter(key, "critical_concentration"),
    )


def _modulus(key: str, effective: Spans, reference: Parameter, critical: Parameter) -> Spans:
    return gel_modulus(
        effective,
        reference=reference,
        reference_pct=1.0,
        exponent=parameter(key, "modulus_exponent").value,
        critical=critical,
    )
