"""Iota carrageenan."""

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.acid import loss_evidence, strength_kept
from setwell.engine.gelling.carrageenan_conditions import acid_condition, sugar_condition
from setwell.engine.gelling.carrageenan_look import IOTA as _ME
from setwell.engine.gelling.carrageenan_look import haze, iota_weeping, look_evidence
from setwell.engine.gelling.doubt import LawDoubt
from setwell.engine.gelling.fracture import fracture_evidence, gel_of, strain_doubt
from setwell.engine.gelling.hydration import hydrates, hydration
from setwell.engine.gelling.kappa_firmness import mix
from setwell.engine.gelling.parameters import evidence_of, parameter
from setwell.engine.gelling.state import (
    KELVIN,
    YES,
    AgentInput,
    AgentState,
    Origins,
    effective_dose,
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
# Protein of plain cow's milk, where the milk figures hold (USDA SR28, NDB 01077).
_MILK_PROTEIN = 0.0315
# More fat than this is no gel with fat in it but a fat with gel in it.
_MOST_FAT = 0.8


def iota(agent: AgentInput) -> AgentState:
    """Return what iota carrageenan does in n batches."""
    dissolved = hydration(agent)
    calcium = _as_calcium(agent)
    set_c = _setting(calcium)
    kept = strength_kept(_ME, agent.water.ph, agent.acid, set_c=set_c.value)
    effective = effective_dose(agent.active_pct, dissolved.fraction, kept)
    milk = np.clip(agent.water.milk_protein_share / _MILK_PROTEIN, 0.0, 1.0)
    critical = _critical(milk)
    per_sulfate = _calcium_per_sulfate(agent)
    offset = parameter(_ME, "melting_offset")
    known = parameter(_ME, "setting_temperature", "rich base, kitchen practice")
    count = len(agent.dose_pct)
    return AgentState(
        key=_ME,
        hydrated=dissolved.fraction,
        hydrates=hydrates(dissolved.fraction),
        kept=kept,
        effective_pct=effective,
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
        | (calcium.value < _CALCIUM_RANGE_MMOL[0])
        | (calcium.value > _CALCIUM_RANGE_MMOL[1]),
        origins=_origins(dissolved.evidence, is_milky=bool(milk.max(initial=0.0) > 0.0)),
        model="iota: calcium line, power law with cascade and calcium",
    )


def _as_calcium(agent: AgentInput) -> Spans:
    """Return free calcium, that of the powder included, and what other ions count as [mmol/kg]."""
    found = list(agent.water.free.calcium)
    for ion, amounts in agent.salts.items():
        if ion != "calcium":
            weight = parameter(_ME, "calcium_equivalent", ion)[:3]
            found = [total + weight[n] * amounts[n] for n, total in enumerate(found)]
    return Spans(*found)


def _calcium_per_sulfate(agent: AgentInput) -> Spans:
    weight = parameter(_ME, "equivalent_weight", "sodium form").value / 1000.0
    share = np.clip(agent.water_share, 0.05, None)
    own = counter_ion_concentration(agent.dose_pct / 100.0 / share, equivalent_weight=weight)
    return Spans(*(part / 1000.0 / np.clip(own, 1e-9, None) for part in agent.water.free.calcium))


def _critical(milk: Array) -> Spans:
    water = parameter(_ME, "critical_concentration")
    dairy = parameter(_ME, "critical_concentration", "milk")
    return Spans(*(mix(a, b, milk) for a, b in zip(water[:3], dairy[:3], strict=True)))


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


def _modulus(
    agent: AgentInput, effective: Spans, critical: Spans, per_sulfate: Spans, milk: Array
) -> Spans:
    """Return the shear modulus [Pa]; near the critical dose its range opens down to nothing."""
    reference, reference_share = _reference()
    exponent = parameter(_ME, "modulus_exponent").value
    # The gum sits in what is not fat; fat itself carries nothing (our judgment).
    change = (1.0 - np.clip(agent.fat_share, 0.0, _MOST_FAT)) ** (1.0 - exponent)
    change = change * mix(1.0, parameter(_ME, "milk_strength_factor").value, milk)
    limits = (critical.value, critical.high, critical.low)
    excess = (per_sulfate.value, per_sulfate.high, per_sulfate.low)
    return Spans(
        *(
            change
            * _calcium_factor(per_sulfate[n], excess[n])
            * modulus_near_threshold(effective[n], limits[n])
            * modulus_power_law(
                np.clip(effective[n], 0.0, None) / 100.0,
                modulus_at_reference=reference / reference_share,
                reference_dose=0.01,
                exponent=exponent,
            )
            for n in range(3)
        )
    )


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


def _reference() -> tuple[float, float]:
    """Return the anchor at 1 % [Pa], and its share of the best calcium and of the power law."""
    weight = parameter(_ME, "equivalent_weight", "sodium form").value / 1000.0
    calcium = parameter(_ME, "reference_calcium").value / 1000.0 / (0.01 / weight)
    ratio = np.asarray(calcium)
    near = modulus_near_threshold(1.0, parameter(_ME, "critical_concentration").value)
    share = float(_calcium_factor(ratio, ratio) * near)
    return parameter(_ME, "modulus_at_1pct").value * 1000.0, share


def _doubt(milk: Array) -> LawDoubt:
    reference, offset = parameter(_ME, "modulus_at_1pct"), parameter(_ME, "melting_offset")
    factor = parameter(_ME, "milk_strength_factor")
    boost = log_half_width(factor.low, factor.high) * float(np.max(milk, initial=0.0))
    error = parameter(_ME, "setting_temperature_error").value
    return LawDoubt(
        strength=float(np.hypot(log_half_width(reference.low, reference.high), boost)),
        strain=strain_doubt(_ME),
        setting=error,
        melting=float(np.hypot(error, (offset.high - offset.low) / 2.0)),
    )


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
