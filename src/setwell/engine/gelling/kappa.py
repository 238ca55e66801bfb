"""Kappa carrageenan."""

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.acid import loss_evidence, strength_kept
from setwell.engine.gelling.doubt import LawDoubt
from setwell.engine.gelling.fracture import fracture_evidence, gel_of, strain_doubt
from setwell.engine.gelling.hydration import hydrates, hydration_hot
from setwell.engine.gelling.parameters import Parameter, evidence_of, parameter
from setwell.engine.gelling.state import (
    KELVIN,
    AgentInput,
    AgentState,
    Origins,
    effective_dose,
)
from setwell.engine.spans import Spans, log_half_width
from setwell.science.gels.setting import (
    counter_ion_concentration,
    setting_temperature_kappa_rochas_1984,
)
from setwell.science.gels.strength import modulus_power_law, potassium_factor

Array = NDArray[np.float64]

_ME = "kappa_carrageenan"
# How exactly a cook sees the start of setting on a spoon (our judgment) [K].
_PRACTICE_DOUBT_K = 3.0
# Span of the setting line in mol/kg; outside, the number is marked as extrapolated.
_LINE_RANGE = (0.005, 0.2)
# Protein of plain cow's milk, where the milk figures hold (USDA SR28, NDB 01077).
_MILK_PROTEIN = 0.0315
# The sugar slope is a straight line only so far.
_SUGAR_LIMIT_PCT = 40.0


def kappa(agent: AgentInput, *, key: str = _ME) -> AgentState:
    """Return what kappa carrageenan does in n batches; `key` may be a weaker kin of it."""
    window = parameter(key, "hydration_temperature")
    practice = parameter(_ME, "whole_batch_temperature", "every part of the batch")
    hydrated = hydration_hot(agent, onset_c=window.low, full_c=max(practice.value, window.high))
    cation = gelling_cation(agent)
    set_c = _setting(agent, cation)
    kept = strength_kept(key, agent.water.ph, agent.acid, set_c=set_c.value)
    effective = effective_dose(agent.active_pct, hydrated, kept)
    milk = np.clip(agent.water.milk_protein_share / _MILK_PROTEIN, 0.0, 1.0)
    critical = _critical(milk)
    reference = parameter(_ME, "modulus_at_1pct")
    factor = parameter(_ME, "milk_strength_factor")
    error = parameter(_ME, "setting_temperature_error").value
    boost = log_half_width(factor.low, factor.high) * float(np.max(milk, initial=0.0))
    return AgentState(
        key=key,
        hydrated=hydrated,
        hydrates=hydrates(hydrated),
        kept=kept,
        effective_pct=effective,
        critical_pct=critical,
        set_c=set_c,
        melt_c=_melting(agent, cation, set_c),
        practice_set_c=_practice(len(set_c.value)),
        gel=gel_of(key, _modulus(effective, cation, milk)),
        doubt=LawDoubt(
            strength=float(np.hypot(log_half_width(reference.low, reference.high), boost)),
            strain=strain_doubt(key),
            setting=error,
            melting=error,
        ),
        is_extrapolated=(cation.value < _LINE_RANGE[0]) | (cation.value > _LINE_RANGE[1]),
        origins=_origins(key, is_milky=bool(milk.max(initial=0.0) > 0.0)),
        model="kappa: cation line (Rochas and Rinaudo form), power law with potassium optimum",
    )


def gelling_cation(agent: AgentInput) -> Spans:
    """Return gelling cations as potassium, plus active counter-ions of the gum, in mol/kg."""
    weights = [_equivalent(ion) for ion in agent.salts]
    spans = list(agent.salts.values())
    pairs = list(zip(weights, spans, strict=True))
    value = sum(weight.value * ion.value for weight, ion in pairs)
    low = sum(weight.low * ion.low for weight, ion in pairs)
    high = sum(weight.high * ion.high for weight, ion in pairs)
    # The potassium form of the powder; sodium powders bring fewer gelling counter-ions.
    equivalent = parameter(_ME, "equivalent_weight", "potassium form").value / 1000.0
    share = np.clip(agent.water_share, 0.05, None)
    own = counter_ion_concentration(agent.dose_pct / 100.0 / share, equivalent_weight=equivalent)
    activity = parameter(_ME, "counter_ion_activity")
    return Spans(
        np.clip(np.asarray(value) / 1000.0 + activity.value * own, 1e-4, None),
        np.clip(np.asarray(low) / 1000.0 + 0.5 * activity.low * own, 1e-4, None),
        np.clip(np.asarray(high) / 1000.0 + activity.high * own, 1e-4, None),
    )


def _equivalent(ion: str) -> Parameter:
    return parameter(_ME, "potassium_equivalent", ion)


def _line(name: str) -> tuple[float, float]:
    return (
        parameter(_ME, f"{name}_line_intercept").value,
        parameter(_ME, f"{name}_line_slope").value,
    )


def _temperature(cation: Array, name: str) -> Array:
    intercept, slope = _line(name)
    kelvin = setting_temperature_kappa_rochas_1984(cation, intercept=intercept, slope=slope)
    return kelvin - KELVIN


def _sugar_shift(agent: AgentInput) -> Spans:
    slope = parameter(_ME, "sucrose_shift")
    sugar = np.clip(agent.water.brix.value, 0.0, _SUGAR_LIMIT_PCT)
    return Spans(slope.value * sugar, slope.low * sugar, slope.high * sugar)


def _setting(agent: AgentInput, cation: Spans) -> Spans:
    shift = _sugar_shift(agent)
    return Spans(
        *(
            _temperature(amount, "setting") + warmer
            for amount, warmer in zip(cation, shift, strict=True)
        )
    )


def _melting(agent: AgentInput, cation: Spans, set_c: Spans) -> Spans:
    shift = _sugar_shift(agent)
    return Spans(
        *(
            np.maximum(_temperature(amount, "melting") + warmer, sets)
            for amount, warmer, sets in zip(cation, shift, set_c, strict=True)
        )
    )


def _practice(count: int) -> Spans:
    known = parameter(_ME, "setting_temperature", "rich base, kitchen practice")
    middle = np.full(count, known.value)
    return Spans(middle, middle - _PRACTICE_DOUBT_K, middle + _PRACTICE_DOUBT_K)


def _critical(milk: Array) -> Spans:
    water = parameter(_ME, "critical_concentration", "water")
    dairy = parameter(_ME, "critical_concentration", "milk")
    return Spans(
        _mix(water.value, dairy.value, milk),
        _mix(water.low, dairy.low, milk),
        _mix(water.high, dairy.high, milk),
    )


def _mix(water: float, dairy: float, milk: Array) -> Array:
    return np.asarray(water ** (1.0 - milk) * dairy**milk)


def _modulus(effective: Spans, cation: Spans, milk: Array) -> Spans:
    reference = parameter(_ME, "modulus_at_1pct")
    exponent = parameter(_ME, "modulus_exponent")
    factor = parameter(_ME, "milk_strength_factor")
    ions = potassium_factor(
        cation.value,
        optimum=parameter(_ME, "optimum_potassium").value,
        decades=parameter(_ME, "optimum_potassium_width").value,
        floor=parameter(_ME, "modulus_floor").value,
    )
    boost = ions * _mix(1.0, factor.value, milk)
    return Spans(
        *(
            boost
            * modulus_power_law(
                np.clip(dose, 0.0, None) / 100.0,
                modulus_at_reference=reference.value * 1000.0,
                reference_dose=0.01,
                exponent=exponent.value,
            )
            for dose in effective
        )
    )


def _origins(key: str, *, is_milky: bool) -> Origins:
    setting = evidence_of(
        parameter(_ME, "setting_line_intercept"),
        parameter(_ME, "counter_ion_activity"),
        parameter(_ME, "potassium_equivalent", "calcium"),
        parameter(_ME, "sucrose_shift"),
    )
    return Origins(
        acid=loss_evidence(key),
        hydration=evidence_of(
            parameter(key, "hydration_temperature"),
            parameter(_ME, "whole_batch_temperature", "every part of the batch"),
        ),
        gelling=evidence_of(
            parameter(_ME, "critical_concentration", "water"),
            parameter(_ME, "critical_concentration", "milk"),
        ),
        setting=setting,
        melting=(*evidence_of(parameter(_ME, "melting_line_intercept")), *setting[1:]),
        strength=evidence_of(
            parameter(_ME, "modulus_at_1pct"),
            parameter(_ME, "modulus_exponent"),
            parameter(_ME, "optimum_potassium"),
            parameter(_ME, "optimum_potassium_width"),
            parameter(_ME, "modulus_floor"),
            *((parameter(_ME, "milk_strength_factor"),) if is_milky else ()),
        ),
        fracture=fracture_evidence(key),
    )
