"""Gelatin."""

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.acid import loss_evidence, strength_kept
from setwell.engine.gelling.doubt import LawDoubt
from setwell.engine.gelling.fracture import fracture_evidence, gel_of, strain_doubt
from setwell.engine.gelling.hydration import hydrates, hydration_hot
from setwell.engine.gelling.parameters import Parameter, evidence_of, parameter
from setwell.engine.gelling.state import (
    NO,
    YES,
    AgentInput,
    AgentState,
    Condition,
    Origins,
    effective_dose,
)
from setwell.engine.spans import Spans, log_half_width
from setwell.science.gels.strength import bloom_at_dose, modulus_from_flat_punch

Array = NDArray[np.float64]

_ME = "gelatin"
_ONSET_C = 35.0
# Measured powers of the concentration.
_EXPONENTS = (1.7, 2.0)
# Thin gels melt some degrees earlier than the 6.67 % one the line is for (our judgment).
_MELTING_DOUBT_K = 4.0
# Flat punch of the Bloom test, 12.7 mm wide and 4 mm deep.
_PUNCH_RADIUS_M, _PUNCH_DEPTH_M = 6.35e-3, 4e-3


def gelatin(agent: AgentInput) -> AgentState:
    """Return what gelatin does in n batches."""
    window = parameter(_ME, "hydration_temperature")
    hydrated = hydration_hot(agent, onset_c=_ONSET_C, full_c=window.low)
    kept = strength_kept(_ME, agent.water.ph, agent.acid)
    effective = effective_dose(agent.active_pct, hydrated, kept)
    count = len(agent.dose_pct)
    limits = parameter(_ME, "critical_concentration")
    critical = Spans(*(np.full(count, bound) for bound in limits[:3]))
    bloom = _bloom(agent.bloom)
    melt_c = _melting(effective, bloom)
    setting = parameter(_ME, "setting_temperature")
    enzyme = np.full(count, NO if agent.has_enzyme else YES)
    return AgentState(
        key=_ME,
        hydrated=hydrated,
        hydrates=hydrates(hydrated),
        kept=kept,
        effective_pct=effective,
        critical_pct=critical,
        conditions=(
            Condition("raw enzyme fruit", enzyme, Spans.exact(np.zeros(count)), "", "none"),
        ),
        set_c=Spans.exact(np.full(count, setting.value)),
        melt_c=melt_c,
        gel=gel_of(_ME, _modulus(effective, bloom)),
        reference_c=parameter(_ME, "bloom_temperature").value,
        # The cup is finite, so the flat-punch modulus is an upper value.
        doubt=LawDoubt(
            strength=log_half_width(0.6, 1.2),
            strain=strain_doubt(_ME),
            setting=(setting.high - setting.low) / 2.0,
            melting=_MELTING_DOUBT_K,
        ),
        is_extrapolated=(effective.value < 0.3) | (effective.value > 15.0),
        origins=Origins(
            acid=loss_evidence(_ME),
            hydration=evidence_of(window),
            gelling=evidence_of(limits),
            setting=evidence_of(setting),
            melting=evidence_of(parameter(_ME, "melting_temperature_anchor"), bloom),
            strength=evidence_of(
                parameter(_ME, "bloom_concentration"), parameter(_ME, "bloom_exponent"), bloom
            ),
            fracture=fracture_evidence(_ME),
        ),
        model="gelatin: Bloom at this dose as a flat punch",
    )


def _bloom(stated: float | None) -> Parameter:
    default = parameter(_ME, "bloom_default")
    if stated is None:
        return default
    return Parameter(stated, stated * 0.95, stated * 1.05, default.citation)


def _melting(effective: Spans, bloom: Parameter) -> Spans:
    anchor = parameter(_ME, "melting_temperature_anchor").value
    slope = parameter(_ME, "melting_temperature_slope").value
    reference = parameter(_ME, "melting_reference_bloom").value
    table = parameter(_ME, "melting_temperature")
    center = anchor + slope * (bloom.value - reference)
    return Spans.exact(np.clip(np.full_like(effective.value, center), table.low, table.high))


def _modulus(effective: Spans, bloom: Parameter) -> Spans:
    exponent = parameter(_ME, "bloom_exponent")
    value = _punch(effective.value, bloom.value, exponent.value)
    # Above the standard 6.67 % the steeper power is the higher one.
    low = np.minimum(*(_punch(effective.low, bloom.low, n) for n in _EXPONENTS))
    high = np.maximum(*(_punch(effective.high, bloom.high, n) for n in _EXPONENTS))
    return Spans(value, low, high)


def _punch(dose_pct: Array, bloom: float, exponent: float) -> Array:
    grams = bloom_at_dose(dose_pct / 100.0, bloom=bloom, exponent=exponent)
    return modulus_from_flat_punch(grams / 1000.0, radius=_PUNCH_RADIUS_M, depth=_PUNCH_DEPTH_M)
