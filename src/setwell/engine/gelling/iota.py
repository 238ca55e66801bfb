"""Iota carrageenan."""

from functools import cache

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.acid import loss_evidence, strength_kept
from setwell.engine.gelling.carrageenan_conditions import acid_condition, sugar_condition
from setwell.engine.gelling.carrageenan_look import IOTA as _ME
from setwell.engine.gelling.carrageenan_look import SWAPPED, haze, iota_weeping, look_evidence
from setwell.engine.gelling.doubt import LawDoubt
from setwell.engine.gelling.fracture import fracture_evidence, gel_of, strain_doubt
from setwell.engine.gelling.hydration import working
from setwell.engine.gelling.kappa_firmness import mix
from setwell.engine.gelling.parameters import evidence_of, parameter
from setwell.engine.gelling.state import (
    KELVIN,
    YES,
    AgentInput,
    AgentState,
    Origins,
)
from setwell.engine.spans import Spans, log_half_width
from setwell.provenance import Evidence
from setwell.science.gels.carrageenan import calcium_excess, calcium_share
from setwell.science.gels.cascade import modulus_near_threshold
from setwell.science.gels.setting import (
    counter_ion_concentration,
    setting_temperature_iota_calcium,
)
from setwell.science.gels.strength import modulus_power_law

Array = NDArray[np.float64]

# Beyond these doses nobody has measured what the power law is drawn from.
_MOST_PCT = 2.0
_CALCIUM_RANGE_MMOL = (1.0, 50.0)
_LEAST_CALCIUM_MMOL = 0.05
# Protein of plain cow's milk, where the milk figures hold (USDA SR28, NDB 01077).
_MILK_PROTEIN = 0.0315
# More fat than this is no gel with fat in it but a fat with gel in it.
_MOST_FAT = 0.8


def iota(agent: AgentInput) -> AgentState:
    """Return what iota carrageenan does in n batches."""
    calcium = _as_calcium(agent)
    set_c = Spans(*_setting(calcium))
    kept = strength_kept(_ME, agent.water.ph, agent.acid, set_c=set_c.value)
    work = working(agent, kept)
    effective = work.effective_pct
    milk = np.minimum(agent.water.milk_protein_share / _MILK_PROTEIN, 1.0)
    critical = _critical(milk)
    per_sulfate = _calcium_per_sulfate(agent)
    offset = parameter(_ME, "melting_offset")
    known = parameter(_ME, "setting_temperature", "rich base, kitchen practice")
    count = len(agent.dose_pct)
    return AgentState(
        key=_ME,
        working=work,
        critical_pct=critical,
        conditions=(acid_condition(agent), sugar_condition(agent)),
        set_c=set_c,
        melt_c=Spans(*(part + offset.value for part in set_c)),
        practice_set_c=Spans.exact(np.full(count, known.value)),
        gel=gel_of(_ME, _modulus(agent, effective, critical, per_sulfate, milk)),
        haze=haze(agent, effective, per_sulfate),
        weeps_pct=iota_weeping(count),
        frozen=np.full(count, YES),
        doubt=_doubt(milk),
        is_extrapolated=(effective.value > _MOST_PCT)
        | (calcium[0] < _CALCIUM_RANGE_MMOL[0])
        | (calcium[0] > _CALCIUM_RANGE_MMOL[1]),
        origins=_origins(work.evidence, is_milky=bool(milk.max(initial=0.0) > 0.0)),
        model="iota: calcium line, power law with cascade and calcium",
    )


def _as_calcium(agent: AgentInput) -> Array:
    """Return free calcium, that of the powder included, and what other ions count as [mmol/kg]."""
    others = [(ion, spans) for ion, spans in agent.salts.items() if ion != "calcium"]
    weights = _equivalents(tuple(ion for ion, _ in others))[:, :, None]
    counted = (weights * np.array([spans for _, spans in others])).sum(axis=0)
    return np.asarray(np.stack(agent.water.free.calcium) + counted)


@cache
def _equivalents(ions: tuple[str, ...]) -> Array:
    """Return what each ion counts as calcium, middle, low and high, (ions, 3)."""
    return np.array([parameter(_ME, "calcium_equivalent", ion)[:3] for ion in ions])


def _calcium_per_sulfate(agent: AgentInput) -> Array:
    weight = parameter(_ME, "equivalent_weight", "sodium form").value / 1000.0
    share = np.maximum(agent.water_share, 0.05)
    own = counter_ion_concentration(agent.dose_pct / 100.0 / share, equivalent_weight=weight)
    return np.asarray(np.stack(agent.water.free.calcium) / 1000.0 / np.maximum(own, 1e-9))


def _critical(milk: Array) -> Spans:
    water = parameter(_ME, "critical_concentration")
    dairy = parameter(_ME, "critical_concentration", "milk")
    return Spans(*(mix(a, b, milk) for a, b in zip(water[:3], dairy[:3], strict=True)))


def _setting(calcium: Array) -> Array:
    anchor = parameter(_ME, "setting_temperature_anchor")
    kelvin = setting_temperature_iota_calcium(
        np.maximum(calcium, _LEAST_CALCIUM_MMOL) / 1000.0,
        reference_temperature=anchor.value + KELVIN,
        rise_per_decade=parameter(_ME, "setting_temperature_slope").value,
        limits=(anchor.low + KELVIN, anchor.high + KELVIN),
    )
    return kelvin - KELVIN


def _modulus(
    agent: AgentInput, effective: Spans, critical: Spans, per_sulfate: Array, milk: Array
) -> Spans:
    """Return the shear modulus [Pa]; near the critical dose its range opens down to nothing."""
    exponent = parameter(_ME, "modulus_exponent").value
    # The gum sits in what is not fat; fat itself carries nothing (our judgment).
    change = (1.0 - np.minimum(agent.fat_share, _MOST_FAT)) ** (1.0 - exponent)
    change = change * mix(1.0, parameter(_ME, "milk_strength_factor").value, milk)
    doses = np.maximum(np.stack(effective), 0.0)
    near = modulus_near_threshold(doses, np.stack(critical)[SWAPPED])
    law = modulus_power_law(
        doses / 100.0, modulus_at_reference=_reference(), reference_dose=0.01, exponent=exponent
    )
    return Spans(*(change * _calcium_factor(per_sulfate, per_sulfate[SWAPPED]) * near * law))


def _calcium_factor(ties: Array, excess: Array) -> Array:
    """Return the share of the best modulus at this calcium per sulfate."""
    best = parameter(_ME, "calcium_per_sulfate_at_best_modulus").value
    least = parameter(_ME, "modulus_without_calcium", "sodium or potassium only").value
    left = calcium_excess(
        excess,
        optimum=best,
        decades=parameter(_ME, "calcium_excess_decades").value,
        floor=parameter(_ME, "calcium_excess_floor").value,
    )
    return (least + (1.0 - least) * calcium_share(ties, optimum=best)) * left


@cache
def _reference() -> float:
    """Return the anchor at 1 %, taken to the best calcium and far from the threshold [Pa]."""
    weight = parameter(_ME, "equivalent_weight", "sodium form").value / 1000.0
    ratio = np.asarray(parameter(_ME, "reference_calcium").value / 1000.0 / (0.01 / weight))
    near = modulus_near_threshold(1.0, parameter(_ME, "critical_concentration").value)
    share = float(_calcium_factor(ratio, ratio) * near)
    return parameter(_ME, "modulus_at_1pct").value * 1000.0 / share


def _doubt(milk: Array) -> LawDoubt:
    reference, offset = parameter(_ME, "modulus_at_1pct"), parameter(_ME, "melting_offset")
    factor = parameter(_ME, "milk_strength_factor")
    boost = log_half_width(factor.low, factor.high) * milk
    error = parameter(_ME, "setting_temperature_error").value
    return LawDoubt(
        strength=np.hypot(log_half_width(reference.low, reference.high), boost),
        strain=strain_doubt(_ME),
        setting=error,
        melting=float(np.hypot(error, (offset.high - offset.low) / 2.0)),
    )


@cache
def _origins(hydrating: Evidence, *, is_milky: bool) -> Origins:
    setting = evidence_of(
        parameter(_ME, "setting_temperature_anchor"), parameter(_ME, "setting_temperature_slope")
    )
    dairy = parameter(_ME, "critical_concentration", "milk")
    return Origins(
        acid=loss_evidence(_ME),
        hydration=hydrating,
        gelling=evidence_of(
            parameter(_ME, "critical_concentration"), *((dairy,) if is_milky else ())
        ),
        setting=setting,
        melting=(*setting, *evidence_of(parameter(_ME, "melting_offset"))),
        strength=evidence_of(
            parameter(_ME, "modulus_at_1pct"),
            parameter(_ME, "modulus_without_calcium", "sodium or potassium only"),
            parameter(_ME, "calcium_per_sulfate_at_best_modulus"),
            *((parameter(_ME, "milk_strength_factor"),) if is_milky else ()),
        ),
        fracture=fracture_evidence(_ME),
        look=look_evidence(_ME),
    )
