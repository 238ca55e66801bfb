"""Gelatin of mammals: sets slowly in the cold, melts in the mouth."""

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.acid import loss_evidence, strength_kept
from setwell.engine.gelling.doubt import LawDoubt
from setwell.engine.gelling.firmness import near_threshold
from setwell.engine.gelling.fracture import fracture_evidence, gel_of, strain_doubt
from setwell.engine.gelling.gelatin_water import water_conditions, weakening, weakening_figures
from setwell.engine.gelling.hydration import working
from setwell.engine.gelling.look import look_of
from setwell.engine.gelling.maturing import matured, maturing_figures
from setwell.engine.gelling.parameters import Parameter, constant, evidence_of, parameter
from setwell.engine.gelling.state import KELVIN, AgentInput, AgentState, Origins
from setwell.engine.spans import Spans, log_half_width
from setwell.provenance import Evidence
from setwell.science.gels.gelatin import melting_temperature_gelatin
from setwell.science.gels.strength import bloom_at_dose, modulus_from_flat_punch

Array = NDArray[np.float64]

_ME = "gelatin"
# Measured powers of the concentration.
_EXPONENTS = (1.7, 2.0)
# Flat punch of the Bloom test, 12.7 mm wide and 4 mm deep.
_PUNCH_RADIUS_M, _PUNCH_DEPTH_M = 6.35e-3, 4e-3
# The cup of the Bloom test is finite, so the flat-punch modulus is an upper value.
_CUP_RANGE = (0.6, 1.2)
_DOSES_PCT = (0.3, 15.0)


def gelatin(agent: AgentInput) -> AgentState:
    """Return what gelatin does in n batches."""
    kept = strength_kept(_ME, agent.water.ph, agent.acid)
    work = working(agent, kept)
    effective = work.effective_pct
    critical = parameter(_ME, "critical_concentration")
    bloom = _bloom(agent.bloom)
    melt_c = _melting(effective, bloom, agent.water.brix)
    gap = parameter(_ME, "hysteresis")
    set_c = Spans(*(part - gap.value for part in melt_c))
    look = look_of(_ME, effective, agent.water.brix.value)
    error = parameter(_ME, "melting_temperature_error").value
    return AgentState(
        key=_ME,
        working=work,
        critical_pct=constant(critical, len(agent.dose_pct)),
        conditions=water_conditions(agent),
        set_c=set_c,
        melt_c=melt_c,
        gel=gel_of(_ME, _modulus(agent, effective, bloom, critical, set_c)),
        reference_c=parameter(_ME, "bloom_temperature").value,
        haze=look.haze,
        weeps_pct=look.weeps_pct,
        frozen=look.frozen,
        doubt=LawDoubt(
            strength=log_half_width(*_CUP_RANGE),
            strain=strain_doubt(_ME),
            setting=float(np.hypot(error, parameter(_ME, "setting_temperature_error").value)),
            melting=error,
        ),
        is_extrapolated=(effective.value < _DOSES_PCT[0])
        | (effective.value > _DOSES_PCT[1])
        | (agent.water.ph.value > parameter(_ME, "ph_window").high),
        origins=_origins(bloom, work.evidence, look.evidence),
        model="gelatin: Bloom at this dose as a flat punch, matured in the cold",
    )


def _origins(bloom: Parameter, dissolving: Evidence, look: Evidence) -> Origins:
    melting = (
        parameter(_ME, "melting_temperature_anchor"),
        parameter(_ME, "melting_dose_rise"),
        bloom,
    )
    return Origins(
        acid=loss_evidence(_ME),
        hydration=dissolving,
        gelling=evidence_of(parameter(_ME, "critical_concentration")),
        setting=evidence_of(*melting, parameter(_ME, "hysteresis")),
        melting=evidence_of(*melting),
        strength=evidence_of(
            parameter(_ME, "bloom_concentration"),
            parameter(_ME, "bloom_exponent"),
            bloom,
            *maturing_figures(),
            *weakening_figures(),
        ),
        fracture=fracture_evidence(_ME),
        look=look,
    )


def _bloom(stated: float | None) -> Parameter:
    default = parameter(_ME, "bloom_default")
    if stated is None:
        return default
    return Parameter(stated, stated * 0.95, stated * 1.05, default.citation)


def _melting(effective: Spans, bloom: Parameter, brix: Spans) -> Spans:
    """Return where the gel melts: higher with Bloom, with the dose and a little with sugar."""
    shift = parameter(_ME, "sugar_melting_shift")
    return Spans(
        *(
            melting_temperature_gelatin(
                dose / 100.0,
                bloom=grade,
                anchor_temperature=parameter(_ME, "melting_temperature_anchor").value + KELVIN,
                reference_bloom=parameter(_ME, "melting_reference_bloom").value,
                bloom_slope=parameter(_ME, "melting_temperature_slope").value,
                rise_per_decade=parameter(_ME, "melting_dose_rise").value,
            )
            - KELVIN
            + slope * np.minimum(sugar, 70.0)
            for dose, grade, slope, sugar in zip(effective, bloom[:3], shift[:3], brix, strict=True)
        )
    )


def _modulus(
    agent: AgentInput, effective: Spans, bloom: Parameter, critical: Parameter, set_c: Spans
) -> Spans:
    exponent = parameter(_ME, "bloom_exponent")
    value = _punch(effective.value, bloom.value, exponent.value)
    # Above the standard 6.67 % the steeper power is the higher one.
    low = np.minimum(*(_punch(effective.low, bloom.low, n) for n in _EXPONENTS))
    high = np.maximum(*(_punch(effective.high, bloom.high, n) for n in _EXPONENTS))
    standard = parameter(_ME, "bloom_concentration").value
    factors = (
        near_threshold(effective, critical=critical, reference_pct=standard),
        matured(agent, set_c),
        weakening(agent),
    )
    parts = (value, low, high)
    return Spans(
        *(part * near * ripe * weak for part, near, ripe, weak in zip(parts, *factors, strict=True))
    )


def _punch(dose_pct: Array, bloom: float, exponent: float) -> Array:
    grams = bloom_at_dose(np.maximum(dose_pct, 0.0) / 100.0, bloom=bloom, exponent=exponent)
    return modulus_from_flat_punch(grams / 1000.0, radius=_PUNCH_RADIUS_M, depth=_PUNCH_DEPTH_M)
