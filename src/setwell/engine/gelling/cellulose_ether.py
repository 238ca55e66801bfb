"""Methylcellulose and HPMC: thick when cold, a gel while hot."""

from functools import cache

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.acid import strength_kept
from setwell.engine.gelling.doubt import LawDoubt
from setwell.engine.gelling.fracture import fracture_evidence, gel_of, strain_doubt
from setwell.engine.gelling.hydration import working
from setwell.engine.gelling.liquid import added_flow, liquid_of
from setwell.engine.gelling.needs import modulus_of
from setwell.engine.gelling.parameters import constant, evidence_of, parameter
from setwell.engine.gelling.state import (
    KELVIN,
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
from setwell.science.gels.heat_gel import gelation_temperature, viscosity_of_grade

Array = NDArray[np.float64]

# Sodium chloride, kg/mol; potassium counts as much mole for mole (our judgment).
_SALT = 0.05844
# The grade is stated for this dose in water of this viscosity [Pa·s].
_GRADE_DOSE, _GRADE_C, _WATER = 0.02, 20.0, 0.001
_MOST_PCT, _MOST_SALT, _MOST_BRIX = 4.0, 0.06, 40.0

# Three on setting, and the rest.
_FIGURES = (
    "setting_temperature", "setting_per_salt", "setting_per_brix", "critical_concentration",
    "melting_temperature", "modulus_at_reference", "modulus_exponent", "viscosity_grade",
    "activation_energy", "weeping",
)  # fmt: skip


def cellulose_ether(agent: AgentInput) -> AgentState:
    """Return what methylcellulose or HPMC does in n batches."""
    key, count = agent.key, len(agent.dose_pct)
    kept = strength_kept(key, agent.water.ph, agent.acid)
    work = working(agent, kept)
    effective = work.effective_pct
    limits, stiff = parameter(key, "critical_concentration"), parameter(key, "modulus_at_reference")
    setting, melting = (parameter(key, f"{name}_temperature") for name in ("setting", "melting"))
    grade = parameter(key, "viscosity_grade")
    set_c, melt_c = (_shifted(agent, figure.value) for figure in (setting, melting))
    standing = _standing(agent.serving_c, set_c, melt_c, (melting.high - melting.low) / 2.0)
    modulus = modulus_of(key, effective)
    return AgentState(
        key=key,
        working=work,
        critical_pct=constant(limits, count),
        sets_on=SetsOn.HEATING,
        set_c=set_c,
        melt_c=melt_c,
        gel=gel_of(key, Spans(*(a * b for a, b in zip(modulus, standing, strict=True)))),
        flow=_flow(agent, effective),
        haze=_haze(key, standing),
        weeps_pct=constant(parameter(key, "weeping"), count),
        frozen=np.full(count, YES),
        doubt=LawDoubt(
            strength=log_half_width(stiff.low, stiff.high),
            strain=strain_doubt(key),
            setting=(setting.high - setting.low) / 2.0,
            melting=(melting.high - melting.low) / 2.0,
            flow=log_half_width(grade.low, grade.high),
        ),
        is_extrapolated=(effective.value > _MOST_PCT)
        | (_salt(agent).value > _MOST_SALT)
        | (agent.water.brix.value > _MOST_BRIX),
        origins=Origins(hydration=work.evidence, **_sources(key)),
        model="cellulose ether: gels hot, by salt and sugar; thick cold, by an assumed grade",
    )


@cache
def _sources(key: str) -> dict[str, Evidence]:
    """Return where the numbers of a cellulose ether come from, besides dissolving."""
    found = {name: parameter(key, name) for name in _FIGURES}
    return {
        "gelling": evidence_of(found["critical_concentration"]),
        "setting": evidence_of(*(found[name] for name in _FIGURES[:3])),
        "melting": evidence_of(found["melting_temperature"]),
        "strength": evidence_of(found["modulus_at_reference"], found["modulus_exponent"]),
        "fracture": fracture_evidence(key),
        "flow": evidence_of(found["viscosity_grade"], found["activation_energy"]),
        "look": evidence_of(parameter(key, "haze", "cold"), found["weeping"]),
    }


def _salt(agent: AgentInput) -> Spans:
    """Return sodium and potassium as sodium chloride, kg per kg of water."""
    sodium, potassium = agent.salts["sodium"], agent.salts["potassium"]
    both = zip(sodium, potassium, strict=True)
    return Spans(*((a + b) * (_SALT / 1000.0) for a, b in both))


def _shifted(agent: AgentInput, reference_c: float) -> Spans:
    """Return a temperature of gelling or melting in this batch; salt and sugar lower it."""
    salt, sugar = _salt(agent), agent.water.brix
    per_salt = 100.0 * parameter(agent.key, "setting_per_salt").value
    per_sugar = 100.0 * parameter(agent.key, "setting_per_brix").value
    # More of either means colder, so the high content makes the low bound.
    found = gelation_temperature(
        np.array([salt.value, salt.high, salt.low]),
        np.array([sugar.value, sugar.high, sugar.low]) / 100.0,
        reference_temperature=reference_c,
        rise_per_salt=per_salt,
        rise_per_sugar=per_sugar,
    )
    return Spans(*found)


def _standing(serving_c: Array, set_c: Spans, melt_c: Spans, doubt: float) -> Spans:
    """Return the share of the hot gel that is there when served: none once it has cooled.

    A straight line from the melting point on cooling to the setting point (our judgment).
    """
    gap = np.maximum(set_c.value - melt_c.value, 1.0)
    shares = [
        np.minimum(np.maximum((serving_c - melt_c.value - shift) / gap, 0.0), 1.0)
        for shift in (0.0, doubt, -doubt)
    ]
    return Spans(*shares)


def _haze(key: str, standing: Spans) -> Spans:
    cold, hot = parameter(key, "haze", "cold"), parameter(key, "haze", "hot gel")
    ends = zip(cold[:3], hot[:3], standing, strict=True)
    return Spans(*(a + (b - a) * share for a, b, share in ends))


def _flow(agent: AgentInput, effective: Spans) -> Flow:
    """Return the solution at serving temperature, thinner when warm."""
    liquid = liquid_of(agent)
    grade = parameter(agent.key, "viscosity_grade").value / 1000.0
    warm = liquid.droplets * arrhenius_flow_factor(
        liquid.kelvin,
        activation_energy=1000.0 * parameter(agent.key, "activation_energy").value,
        reference_temperature=_GRADE_C + KELVIN,
    )
    whole = viscosity_of_grade(
        np.array(effective) / 100.0 / liquid.serum,
        grade_viscosity=grade,
        reference_dose=_GRADE_DOSE,
        solvent_viscosity=_WATER,
    )
    added = Spans(*(warm * (whole - _WATER)))
    return added_flow(added, liquid.base)
