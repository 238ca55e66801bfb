"""Kappa carrageenan, and its less refined kin processed eucheuma."""

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.acid import loss_evidence, strength_kept
from setwell.engine.gelling.carrageenan_conditions import acid_condition, sugar_condition
from setwell.engine.gelling.carrageenan_look import (
    EUCHEUMA,
    KAPPA,
    SUGAR_LIMIT_PCT,
    haze,
    kappa_weeping,
    look_evidence,
)
from setwell.engine.gelling.doubt import LawDoubt
from setwell.engine.gelling.fracture import fracture_evidence, gel_of, strain_doubt
from setwell.engine.gelling.hydration import hydrates, hydration
from setwell.engine.gelling.kappa_firmness import (
    KappaIons,
    kappa_critical,
    kappa_modulus,
    kappa_strain,
    strength_doubt,
    strength_evidence,
)
from setwell.engine.gelling.parameters import Parameter, evidence_of, parameter
from setwell.engine.gelling.state import (
    KELVIN,
    NO,
    AgentInput,
    AgentState,
    Origins,
    OtherLaw,
    effective_dose,
)
from setwell.engine.spans import Spans
from setwell.provenance import Evidence
from setwell.science.gels.carrageenan import setting_shift_ph, setting_temperature_kappa_root
from setwell.science.gels.setting import (
    counter_ion_concentration,
    setting_temperature_kappa_rochas_1984,
)

Array = NDArray[np.float64]

# How exactly a cook sees the start of setting on a spoon (our judgment) [K].
_PRACTICE_DOUBT_K = 3.0
# Span of the setting line in mol/kg; outside, the number is marked as extrapolated.
_LINE_RANGE = (0.005, 0.2)
# Protein of plain cow's milk, where the milk figures hold (USDA SR28, NDB 01077).
_MILK_PROTEIN = 0.0315
# The pH effect was read between these two.
_PH_RANGE = (3.0, 8.0)


def kappa(agent: AgentInput, *, key: str = KAPPA) -> AgentState:
    """Return what kappa carrageenan does in n batches; `key` may be a weaker kin of it."""
    dissolved = hydration(agent)
    ions = kappa_ions(agent)
    shift = _shift(agent)
    set_c = _line(ions.cation, shift, "setting")
    kept = strength_kept(key, agent.water.ph, agent.acid, set_c=set_c.value)
    effective = effective_dose(agent.active_pct, dissolved.fraction, kept)
    milk = np.clip(agent.water.milk_protein_share / _MILK_PROTEIN, 0.0, 1.0)
    critical = kappa_critical(milk, key)
    modulus = kappa_modulus(agent, effective, critical, ions, milk)
    error = parameter(KAPPA, "setting_temperature_error").value
    best = parameter(KAPPA, "optimum_potassium").value
    return AgentState(
        key=key,
        hydrated=dissolved.fraction,
        hydrates=hydrates(dissolved.fraction),
        kept=kept,
        effective_pct=effective,
        critical_pct=critical,
        conditions=(acid_condition(agent), sugar_condition(agent)),
        set_c=set_c,
        melt_c=_melting(ions.cation, shift, set_c),
        practice_set_c=_practice(len(set_c.value)),
        other_set=OtherLaw("square root of the gelling cations", _root(ions.cation, shift)),
        gel=gel_of(key, modulus, strain=kappa_strain(agent, effective, ions)),
        haze=haze(agent, effective, ions.calcium_per_sulfate),
        weeps_pct=kappa_weeping(agent, effective, ions.cation.value / best, milk),
        frozen=np.full(len(set_c.value), NO),
        doubt=LawDoubt(
            strength=strength_doubt(milk, key),
            strain=strain_doubt(key),
            setting=error,
            melting=error,
        ),
        is_extrapolated=(ions.cation.value < _LINE_RANGE[0])
        | (ions.cation.value > _LINE_RANGE[1])
        | (agent.water.brix.value > SUGAR_LIMIT_PCT),
        origins=_origins(key, dissolved.evidence, is_milky=bool(milk.max(initial=0.0) > 0.0)),
        model="kappa: cation line (Rochas and Rinaudo form), power law with cascade and ions",
    )


def gelling_cation(agent: AgentInput) -> Spans:
    """Return gelling cations as potassium, plus active counter-ions of the gum, in mol/kg."""
    return kappa_ions(agent).cation


def kappa_ions(agent: AgentInput) -> KappaIons:
    """Return the ions that count for kappa."""
    weights = [_equivalent(ion)[:3] for ion in agent.salts]
    salts = list(agent.salts.values())
    # The potassium form of the powder; sodium powders bring fewer gelling counter-ions.
    own = _own_charges(agent)
    activity = parameter(KAPPA, "counter_ion_activity")
    active = (activity.value * own, 0.5 * activity.low * own, activity.high * own)
    cation, sodium = [], []
    for n in range(3):
        told = sum(weight[n] * ion[n] for weight, ion in zip(weights, salts, strict=True))
        cation.append(np.clip(np.asarray(told) / 1000.0 + active[n], 1e-4, None))
        sodium.append(agent.salts["sodium"][n] / 1000.0 + active[n])
    sulfate = np.clip(own, 1e-9, None)
    calcium = Spans(*(part / 1000.0 / sulfate for part in agent.salts["calcium"]))
    return KappaIons(Spans(*cation), Spans(*sodium), calcium)


def _own_charges(agent: AgentInput) -> Array:
    if agent.key == EUCHEUMA:
        equivalent = 1.0 / parameter(EUCHEUMA, "charge").value
    else:
        equivalent = parameter(KAPPA, "equivalent_weight", "potassium form").value / 1000.0
    share = np.clip(agent.water_share, 0.05, None)
    return counter_ion_concentration(agent.dose_pct / 100.0 / share, equivalent_weight=equivalent)


def _equivalent(ion: str) -> Parameter:
    return parameter(KAPPA, "potassium_equivalent", ion)


def _line(cation: Spans, shift: Spans, name: str) -> Spans:
    intercept = parameter(KAPPA, f"{name}_line_intercept").value
    slope = parameter(KAPPA, f"{name}_line_slope").value
    return Spans(
        *(
            setting_temperature_kappa_rochas_1984(amount, intercept=intercept, slope=slope)
            - KELVIN
            + warmer
            for amount, warmer in zip(cation, shift, strict=True)
        )
    )


def _root(cation: Spans, shift: Spans) -> Spans:
    intercept = parameter(KAPPA, "setting_root_intercept").value
    slope = parameter(KAPPA, "setting_root_slope").value
    return Spans(
        *(
            setting_temperature_kappa_root(amount, intercept=intercept, slope=slope) + warmer
            for amount, warmer in zip(cation, shift, strict=True)
        )
    )


def _melting(cation: Spans, shift: Spans, set_c: Spans) -> Spans:
    """Return the melting line; below its crossing with the setting line the two are one."""
    line = _line(cation, shift, "melting")
    return Spans(*(np.maximum(melts, sets) for melts, sets in zip(line, set_c, strict=True)))


def _shift(agent: AgentInput) -> Spans:
    """Return what sugar and pH add to setting and melting [K]."""
    slope = parameter(KAPPA, "sucrose_shift")
    sugar = np.clip(agent.water.brix.value, 0.0, SUGAR_LIMIT_PCT)
    rise = parameter(KAPPA, "setting_temperature_ph_rise").value
    reference = parameter(KAPPA, "setting_ph_reference").value
    acid = (
        setting_shift_ph(
            part,
            rise_per_ph=rise / (_PH_RANGE[1] - _PH_RANGE[0]),
            reference_ph=reference,
            limits=_PH_RANGE,
        )
        for part in agent.water.ph
    )
    return Spans(*(s * sugar + a for s, a in zip(slope[:3], acid, strict=True)))


def _practice(count: int) -> Spans:
    known = parameter(KAPPA, "setting_temperature", "rich base, kitchen practice")
    return Spans.around(np.full(count, known.value), _PRACTICE_DOUBT_K)


def _origins(key: str, hydrating: Evidence, *, is_milky: bool) -> Origins:
    setting = evidence_of(
        parameter(KAPPA, "setting_line_intercept"),
        parameter(KAPPA, "setting_root_intercept"),
        parameter(KAPPA, "counter_ion_activity"),
        parameter(KAPPA, "potassium_equivalent", "calcium"),
        parameter(KAPPA, "sucrose_shift"),
        parameter(KAPPA, "setting_temperature_ph_rise"),
    )
    return Origins(
        acid=loss_evidence(key),
        hydration=hydrating,
        gelling=evidence_of(
            parameter(KAPPA, "critical_concentration", "water"),
            parameter(KAPPA, "critical_concentration", "milk"),
        ),
        setting=setting,
        melting=(*evidence_of(parameter(KAPPA, "melting_line_intercept")), *setting[2:]),
        strength=strength_evidence(key, is_milky=is_milky),
        fracture=(
            *fracture_evidence(key),
            *evidence_of(parameter(KAPPA, "strain_fall_potassium")),
        ),
        look=look_evidence(key),
    )
