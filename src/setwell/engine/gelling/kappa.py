"""Kappa carrageenan, and its less refined kin processed eucheuma."""

from dataclasses import replace
from functools import cache

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
from setwell.engine.gelling.hydration import working
from setwell.engine.gelling.kappa_firmness import (
    KappaIons,
    kappa_critical,
    kappa_modulus,
    kappa_strain,
    strength_doubt,
    strength_evidence,
)
from setwell.engine.gelling.parameters import evidence_of, parameter
from setwell.engine.gelling.state import (
    KELVIN,
    NO,
    AgentInput,
    AgentState,
    Gel,
    Origins,
    OtherLaw,
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
    ions = kappa_ions(agent)
    shift = _shift(agent)
    setting = _line(ions.cation, shift, "setting")
    set_c = Spans(*setting)
    # Below the crossing of the two lines melting and setting are one.
    melting = np.maximum(_line(ions.cation, shift, "melting"), setting)
    kept = strength_kept(key, agent.water.ph, agent.acid, set_c=set_c.value)
    work = working(agent, kept)
    effective = work.effective_pct
    milk = np.minimum(agent.water.milk_protein_share / _MILK_PROTEIN, 1.0)
    critical = kappa_critical(milk, key)

    def gel(dose: Spans, around: KappaIons) -> Gel:
        modulus = kappa_modulus(agent, dose, critical, around, milk)
        return gel_of(key, modulus, strain=kappa_strain(agent, dose, around))

    def gel_at(dose: Spans) -> Gel:
        # As much kappa brings as many counter-ions of its own.
        return gel(dose, kappa_ions(replace(agent, dose_pct=dose.value)))

    error = parameter(KAPPA, "setting_temperature_error").value
    best = parameter(KAPPA, "optimum_potassium").value
    return AgentState(
        key=key,
        working=work,
        critical_pct=critical,
        conditions=(acid_condition(agent), sugar_condition(agent)),
        set_c=set_c,
        melt_c=Spans(*melting),
        practice_set_c=_practice(len(set_c.value)),
        other_set=OtherLaw("square root of the gelling cations", Spans(*_root(ions.cation, shift))),
        gel=gel(effective, ions),
        gel_at=gel_at,
        haze=haze(agent, effective, ions.calcium_per_sulfate),
        weeps_pct=kappa_weeping(agent, effective, ions.cation[0] / best, milk),
        frozen=np.full(len(set_c.value), NO),
        doubt=LawDoubt(
            strength=strength_doubt(milk, key),
            strain=strain_doubt(key),
            setting=error,
            melting=error,
        ),
        is_extrapolated=(ions.cation[0] < _LINE_RANGE[0])
        | (ions.cation[0] > _LINE_RANGE[1])
        | (agent.water.brix.value > SUGAR_LIMIT_PCT),
        origins=_origins(key, work.evidence, is_milky=bool(milk.max(initial=0.0) > 0.0)),
        model="kappa: cation line (Rochas and Rinaudo form), power law with cascade and ions",
    )


def kappa_ions(agent: AgentInput) -> KappaIons:
    """Return the ions that count for kappa."""
    salts = np.array(list(agent.salts.values())) / 1000.0
    own = _own_charges(agent)
    active = _activity() * own
    told = (_equivalents(tuple(agent.salts))[:, :, None] * salts).sum(axis=0)
    by_name = dict(zip(agent.salts, salts, strict=True))
    return KappaIons(
        cation=np.maximum(told + active, 1e-4),
        sodium=by_name["sodium"] + active,
        calcium_per_sulfate=by_name["calcium"] / np.maximum(own, 1e-9),
    )


@cache
def _equivalents(ions: tuple[str, ...]) -> Array:
    """Return what each ion counts as potassium, middle, low and high, (ions, 3)."""
    return np.array([parameter(KAPPA, "potassium_equivalent", ion)[:3] for ion in ions])


@cache
def _activity() -> Array:
    """Return the share of the gum's own counter-ions that counts, (3, 1).

    The potassium form of the powder; sodium powders bring fewer gelling counter-ions.
    """
    known = parameter(KAPPA, "counter_ion_activity")
    return np.array([[known.value], [0.5 * known.low], [known.high]])


def _own_charges(agent: AgentInput) -> Array:
    if agent.key == EUCHEUMA:
        equivalent = 1.0 / parameter(EUCHEUMA, "charge").value
    else:
        equivalent = parameter(KAPPA, "equivalent_weight", "potassium form").value / 1000.0
    share = np.maximum(agent.water_share, 0.05)
    return counter_ion_concentration(agent.dose_pct / 100.0 / share, equivalent_weight=equivalent)


def _line(cation: Array, shift: Array, name: str) -> Array:
    intercept = parameter(KAPPA, f"{name}_line_intercept").value
    slope = parameter(KAPPA, f"{name}_line_slope").value
    kelvin = setting_temperature_kappa_rochas_1984(cation, intercept=intercept, slope=slope)
    return kelvin - KELVIN + shift


def _root(cation: Array, shift: Array) -> Array:
    intercept = parameter(KAPPA, "setting_root_intercept").value
    slope = parameter(KAPPA, "setting_root_slope").value
    return setting_temperature_kappa_root(cation, intercept=intercept, slope=slope) + shift


def _shift(agent: AgentInput) -> Array:
    """Return what sugar and pH add to setting and melting [K], (3, n)."""
    sugar = np.minimum(agent.water.brix.value, SUGAR_LIMIT_PCT)
    acid = setting_shift_ph(
        np.stack(agent.water.ph),
        rise_per_ph=parameter(KAPPA, "setting_temperature_ph_rise").value / np.ptp(_PH_RANGE),
        reference_ph=parameter(KAPPA, "setting_ph_reference").value,
        limits=_PH_RANGE,
    )
    return np.array(parameter(KAPPA, "sucrose_shift")[:3])[:, None] * sugar + acid


def _practice(count: int) -> Spans:
    known = parameter(KAPPA, "setting_temperature", "rich base, kitchen practice")
    return Spans.around(np.full(count, known.value), _PRACTICE_DOUBT_K)


@cache
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
