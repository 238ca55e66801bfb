"""Gelatin."""

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.acid import loss_evidence, strength_kept
from setwell.engine.gelling.hydration import hydrates, hydration_hot
from setwell.engine.gelling.parameters import Parameter, evidence_of, parameter
from setwell.engine.gelling.state import (
    NO,
    AgentInput,
    AgentState,
    Origins,
    effective_dose,
    gel_forms,
    modulus_spans,
)
from setwell.engine.spans import Spans, log_half_width
from setwell.science.gels.strength import bloom_at_dose, modulus_from_flat_punch

Array = NDArray[np.float64]

_ME = "gelatin"
_ONSET_C = 35.0
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
    set_c = Spans(*(np.full(count, bound) for bound in setting[:3]))
    sets = gel_forms(effective, critical, agent.process.coldest_c, set_c)
    return AgentState(
        hydrated=hydrated,
        hydrates=hydrates(hydrated),
        kept=kept,
        effective_pct=effective,
        critical_pct=critical,
        sets=np.full(count, NO) if agent.has_enzyme else sets,
        set_c=set_c,
        melt_c=melt_c,
        practice_set_c=None,
        modulus=_modulus(effective, bloom),
        viscosity=None,
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
    value = np.clip(np.full_like(effective.value, center), table.low, table.high)
    # Thin gels melt some degrees earlier than the 6.67 % one the line is for.
    return Spans(value, np.maximum(value - 5.0, 22.0), np.minimum(value + 3.0, table.high + 2.0))


def _modulus(effective: Spans, bloom: Parameter) -> Spans:
    exponent = parameter(_ME, "bloom_exponent")
    value = _punch(effective.value, bloom.value, exponent.value)
    steep = _punch(effective.low, bloom.low, 2.0)
    gentle = _punch(effective.high, bloom.high, 1.7)
    # The cup is finite, so the flat-punch modulus is an upper value.
    return modulus_spans(value, steep, gentle, log_half_widths=(log_half_width(0.6, 1.2),))


def _punch(dose_pct: Array, bloom: float, exponent: float) -> Array:
    grams = bloom_at_dose(dose_pct / 100.0, bloom=bloom, exponent=exponent)
    return modulus_from_flat_punch(grams / 1000.0, radius=_PUNCH_RADIUS_M, depth=_PUNCH_DEPTH_M)
