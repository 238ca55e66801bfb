"""Starches: cooked they thicken, and some of them gel as they cool."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.acid import loss_evidence, strength_kept
from setwell.engine.gelling.doubt import LawDoubt
from setwell.engine.gelling.fracture import fracture_evidence, gel_of, strain_doubt
from setwell.engine.gelling.hydration import hydrates, hydration
from setwell.engine.gelling.liquid import REFERENCE_K, liquid_of
from setwell.engine.gelling.needs import constant, modulus_of
from setwell.engine.gelling.parameters import Parameter, evidence_of, parameter
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
    effective_dose,
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


class _Setting(NamedTuple):
    """What only the starches have that gel."""

    doubt: LawDoubt
    gelling: Evidence
    setting: Evidence
    strength: Evidence
    fracture: Evidence


def starch(agent: AgentInput) -> AgentState:
    """Return what a starch does in n batches."""
    key, count = agent.key, len(agent.dose_pct)
    cooked = hydration(agent)
    kept = strength_kept(key, agent.water.ph, agent.acid)
    effective = effective_dose(agent.active_pct, cooked.fraction, kept)
    gels = key in GELLING
    setting = _setting(key) if gels else None
    thick = parameter(key, "consistency_reference")
    return AgentState(
        key=key,
        hydrated=cooked.fraction,
        hydrates=hydrates(cooked.fraction),
        kept=kept,
        zones=cooked.zones,
        effective_pct=effective,
        critical_pct=constant(parameter(key, "critical_concentration"), count) if gels else None,
        sets_on=SetsOn.COOLING if gels else SetsOn.NOTHING,
        set_c=_sets_at(key, count) if gels else None,
        gel=gel_of(key, modulus_of(key, effective, conditions="gel")) if gels else None,
        flow=_flow(agent, effective),
        haze=constant(parameter(key, "haze"), count),
        weeps_pct=constant(parameter(key, "weeping"), count),
        frozen=np.full(count, _FROZEN.get(key, NO)),
        doubt=(LawDoubt() if setting is None else setting.doubt)._replace(
            flow=log_half_width(thick.low, thick.high)
        ),
        is_extrapolated=effective.value > _MOST_PCT,
        origins=Origins(
            acid=loss_evidence(key),
            hydration=cooked.evidence,
            gelling=() if setting is None else setting.gelling,
            setting=() if setting is None else setting.setting,
            strength=() if setting is None else setting.strength,
            fracture=() if setting is None else setting.fracture,
            flow=_flow_evidence(key),
            look=evidence_of(parameter(key, "haze"), parameter(key, "weeping")),
        ),
        model="starch: power law of the paste" + (", and of its gel" if gels else ""),
    )


def _setting(key: str) -> _Setting:
    stiff, at = parameter(key, "modulus_at_reference"), _gels_at(key)
    return _Setting(
        LawDoubt(
            strength=log_half_width(stiff.low, stiff.high),
            strain=strain_doubt(key),
            setting=(at.high - at.low) / 2.0,
        ),
        evidence_of(parameter(key, "critical_concentration")),
        evidence_of(at),
        evidence_of(stiff, parameter(key, "modulus_exponent")),
        fracture_evidence(key),
    )


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
    salted = _in_salt(agent)
    return Flow(
        Spans(
            *(
                paste_viscosity(
                    dose,
                    SHEAR_RATES,
                    consistency=level * part,
                    reference_dose=parameter(key, "reference_dose", "paste").value,
                    exponent=parameter(key, "consistency_exponent").value,
                    flow_index=parameter(key, "flow_index").value,
                )
                for dose, part in zip(effective.scaled(1.0 / liquid.serum), salted, strict=True)
            )
        ),
        liquid.base,
    )


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
