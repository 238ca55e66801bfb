"""Iota carrageenan."""

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.acid import loss_evidence, strength_kept
from setwell.engine.gelling.doubt import LawDoubt
from setwell.engine.gelling.fracture import fracture_evidence, gel_of, strain_doubt
from setwell.engine.gelling.hydration import hydrates, hydration_hot
from setwell.engine.gelling.parameters import evidence_of, parameter
from setwell.engine.gelling.state import (
    KELVIN,
    AgentInput,
    AgentState,
    Origins,
    effective_dose,
)
from setwell.engine.spans import Spans, log_half_width
from setwell.science.gels.setting import setting_temperature_iota_calcium
from setwell.science.gels.strength import modulus_power_law

Array = NDArray[np.float64]

_ME = "iota_carrageenan"
# Beyond these doses nobody has measured what the power law is drawn from.
_MOST_PCT = 2.0
_CALCIUM_RANGE_MMOL = (1.0, 50.0)


def iota(agent: AgentInput) -> AgentState:
    """Return what iota carrageenan does in n batches."""
    window = parameter(_ME, "hydration_temperature")
    practice = parameter(_ME, "whole_batch_temperature", "every part of the batch")
    hydrated = hydration_hot(agent, onset_c=window.low, full_c=max(practice.value, window.high))
    limits = parameter(_ME, "critical_concentration")
    count = len(agent.dose_pct)
    critical = Spans(*(np.full(count, bound) for bound in limits[:3]))
    # Iota sets by whatever calcium is free, that of its own powder included.
    calcium = agent.water.free.calcium
    set_c = _setting(calcium)
    kept = strength_kept(_ME, agent.water.ph, agent.acid, set_c=set_c.value)
    effective = effective_dose(agent.active_pct, hydrated, kept)
    offset = parameter(_ME, "melting_offset")
    known = parameter(_ME, "setting_temperature", "rich base, kitchen practice")
    reference = parameter(_ME, "modulus_at_1pct")
    return AgentState(
        key=_ME,
        hydrated=hydrated,
        hydrates=hydrates(hydrated),
        kept=kept,
        effective_pct=effective,
        critical_pct=critical,
        set_c=set_c,
        melt_c=Spans(*(part + offset.value for part in set_c)),
        practice_set_c=Spans.exact(np.full(count, known.value)),
        gel=gel_of(_ME, _modulus(effective)),
        doubt=LawDoubt(
            strength=log_half_width(reference.low, reference.high),
            strain=strain_doubt(_ME),
            setting=parameter(_ME, "setting_temperature_error").value,
            melting=float(
                np.hypot(
                    parameter(_ME, "setting_temperature_error").value,
                    (offset.high - offset.low) / 2.0,
                )
            ),
        ),
        is_extrapolated=(effective.value > _MOST_PCT)
        | (calcium.value < _CALCIUM_RANGE_MMOL[0])
        | (calcium.value > _CALCIUM_RANGE_MMOL[1]),
        origins=_origins(),
        model="iota: calcium line, power law",
    )


def _origins() -> Origins:
    setting = evidence_of(
        parameter(_ME, "setting_temperature_anchor"), parameter(_ME, "setting_temperature_slope")
    )
    return Origins(
        acid=loss_evidence(_ME),
        hydration=evidence_of(
            parameter(_ME, "hydration_temperature"),
            parameter(_ME, "whole_batch_temperature", "every part of the batch"),
        ),
        gelling=evidence_of(parameter(_ME, "critical_concentration")),
        setting=setting,
        melting=(*setting, *evidence_of(parameter(_ME, "melting_offset"))),
        strength=evidence_of(parameter(_ME, "modulus_at_1pct")),
        fracture=fracture_evidence(_ME),
    )


def _setting(calcium: Spans) -> Spans:
    anchor = parameter(_ME, "setting_temperature_anchor")
    slope = parameter(_ME, "setting_temperature_slope").value
    return Spans(
        *(
            setting_temperature_iota_calcium(
                np.clip(part, 0.05, None) / 1000.0,
                reference_temperature=anchor.value + KELVIN,
                rise_per_decade=slope,
                limits=(anchor.low + KELVIN, anchor.high + KELVIN),
            )
            - KELVIN
            for part in calcium
        )
    )


def _modulus(effective: Spans) -> Spans:
    reference = parameter(_ME, "modulus_at_1pct")
    exponent = parameter(_ME, "modulus_exponent").value
    return Spans(
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
