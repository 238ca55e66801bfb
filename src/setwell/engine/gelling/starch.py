"""Starches: cooked they thicken, and some of them gel as they cool."""

from functools import cache

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.acid import loss_evidence, strength_kept
from setwell.engine.gelling.doubt import LawDoubt
from setwell.engine.gelling.fracture import fracture_evidence, gel_of, strain_doubt
from setwell.engine.gelling.hydration import working
from setwell.engine.gelling.liquid import REFERENCE_K, liquid_of
from setwell.engine.gelling.needs import modulus_of
from setwell.engine.gelling.parameters import Parameter, constant, evidence_of, parameter
from setwell.engine.gelling.state import (
    CANNOT_TELL,
    NO,
    SHEAR_RATES,
    YES,
    AgentInput,
    AgentState,
    Flow,
    Origins,
    SetsOn,
)
from setwell.engine.spans import Spans, log_half_width
from setwell.provenance import Evidence
from setwell.science.flow.temperature import arrhenius_flow_factor
from setwell.science.gels.starch import paste_viscosity, salt_left

Array = NDArray[np.float64]

_MOST_PCT = 12.0
# Fair through freezing, well through it; all others weep and break (recalled).
_FROZEN = {
    "starch_waxy_maize": CANNOT_TELL,
    "starch_pregel": CANNOT_TELL,
    "starch_modified_crosslinked": YES,
    "starch_ocs_osa": YES,
}
GELLING = frozenset({"starch_corn", "starch_wheat", "starch_rice", "starch_potato",
                     "starch_tapioca"})  # fmt: skip


def starch(agent: AgentInput) -> AgentState:
    """Return what a starch does in n batches."""
    key, count = agent.key, len(agent.dose_pct)
    kept = strength_kept(key, agent.water.ph, agent.acid)
    work = working(agent, kept)
    effective = work.effective_pct
    gels = key in GELLING
    return AgentState(
        key=key,
        working=work,
        critical_pct=constant(parameter(key, "critical_concentration"), count) if gels else None,
        sets_on=SetsOn.COOLING if gels else SetsOn.NOTHING,
        set_c=_sets_at(key, count) if gels else None,
        gel=gel_of(key, modulus_of(key, effective, conditions="gel")) if gels else None,
        flow=_flow(agent, effective),
        haze=constant(parameter(key, "haze"), count),
        weeps_pct=constant(parameter(key, "weeping"), count),
        frozen=np.full(count, _FROZEN.get(key, NO)),
        doubt=_doubt(key),
        is_extrapolated=effective.value > _MOST_PCT,
        origins=Origins(hydration=work.evidence, **_sources(key)),
        model="starch: power law of the paste" + (", and of its gel" if gels else ""),
    )


@cache
def _doubt(key: str) -> LawDoubt:
    thick = parameter(key, "consistency_reference")
    flow = log_half_width(thick.low, thick.high)
    if key not in GELLING:
        return LawDoubt(flow=flow)
    stiff, at = parameter(key, "modulus_at_reference"), _gels_at(key)
    return LawDoubt(
        strength=log_half_width(stiff.low, stiff.high),
        strain=strain_doubt(key),
        setting=(at.high - at.low) / 2.0,
        flow=flow,
    )


@cache
def _sources(key: str) -> dict[str, Evidence]:
    """Return where the numbers of a starch come from, besides cooking."""
    found = {
        "acid": loss_evidence(key),
        "flow": _flow_evidence(key),
        "look": evidence_of(parameter(key, "haze"), parameter(key, "weeping")),
    }
    if key in GELLING:
        stiff, power = parameter(key, "modulus_at_reference"), parameter(key, "modulus_exponent")
        found["gelling"] = evidence_of(parameter(key, "critical_concentration"))
        found["setting"] = evidence_of(_gels_at(key))
        found["strength"] = evidence_of(stiff, power)
        found["fracture"] = fracture_evidence(key)
    return found


def _sets_at(key: str, count: int) -> Spans:
    return Spans.exact(np.full(count, _gels_at(key).value))


def _gels_at(key: str) -> Parameter:
    name = "soft_gel_temperature" if key == "starch_tapioca" else "setting_temperature"
    return parameter(key, name)


def _flow_evidence(key: str) -> Evidence:
    found = ["consistency_reference", "consistency_exponent", "flow_index", "activation_energy"]
    found += ["salt_half", "salt_floor"] if key == "starch_potato" else []
    return evidence_of(*(parameter(key, name) for name in found))


def _flow(agent: AgentInput, effective: Spans) -> Flow:
    """Return the paste as it is served; how hard it was stirred stays in the doubt."""
    key = agent.key
    liquid = liquid_of(agent)
    warm = arrhenius_flow_factor(
        liquid.kelvin,
        activation_energy=1000.0 * parameter(key, "activation_energy").value,
        reference_temperature=REFERENCE_K,
    )
    level = parameter(key, "consistency_reference").value * warm * liquid.droplets
    added = paste_viscosity(
        np.array(effective) / liquid.serum,
        SHEAR_RATES,
        consistency=level * np.array(_in_salt(agent)),
        reference_dose=parameter(key, "reference_dose", "paste").value,
        exponent=parameter(key, "consistency_exponent").value,
        flow_index=parameter(key, "flow_index").value,
    )
    return Flow(Spans(*added), liquid.base)


def _in_salt(agent: AgentInput) -> Spans:
    """Return the share of its thickness that a starch keeps in the salt of the batch."""
    one = np.ones_like(agent.dose_pct)
    if agent.key != "starch_potato":
        return Spans.exact(one)
    sodium = agent.salts["sodium"]
    half = parameter(agent.key, "salt_half").value / 1000.0
    floor = parameter(agent.key, "salt_floor").value
    kept = [
        salt_left(part / 1000.0, half=half, floor=floor)
        for part in (sodium.value, sodium.high, sodium.low)
    ]
    return Spans(kept[0], np.minimum(kept[1], kept[0]), np.maximum(kept[2], kept[0]))
