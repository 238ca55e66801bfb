"""Gums that thicken and never gel by themselves."""

from functools import cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.acid import loss_evidence, strength_kept
from setwell.engine.gelling.doubt import LawDoubt
from setwell.engine.gelling.hydration import working
from setwell.engine.gelling.liquid import (
    REFERENCE_K,
    WATER_AT_REFERENCE,
    Liquid,
    added_flow,
    liquid_of,
)
from setwell.engine.gelling.parameters import Parameter, evidence_of, parameter
from setwell.engine.gelling.state import (
    CANNOT_TELL,
    NO,
    SHEAR_RATES,
    YES,
    AgentInput,
    AgentState,
    Codes,
    Flow,
    Origins,
    SetsOn,
)
from setwell.engine.spans import Spans, log_half_width
from setwell.errors import MissingDataError
from setwell.provenance import Evidence
from setwell.science.flow.coils import viscosity_overlap_law
from setwell.science.flow.shear import viscosity_power_law
from setwell.science.flow.temperature import arrhenius_flow_factor
from setwell.tables.agents import agent_rows

Array = NDArray[np.float64]

_XANTHAN = "xanthan"
_KITCHEN = "kitchen doses"
_SODIUM, _CALCIUM, _SOUR = "sodium and potassium", "calcium", "pH 3 and below"
# Where acid has done all it does to a charged gum.
_SOUREST = 3.0
# The table of descriptions tells how a thickened liquid comes through freezing.
_FREEZING = {"excellent": YES, "good": YES, "fair": CANNOT_TELL, "poor": NO}


class CoilLaw(NamedTuple):
    """Zero-shear law of one gum in water at 25 °C."""

    overlap_pct: float
    at_overlap: float
    exponents: tuple[float, float]
    half_stress: float
    activation_energy: float
    syrup_power: float


def thickener(agent: AgentInput) -> AgentState:
    """Return what a gum that only thickens does in n batches."""
    key = agent.key
    kept = strength_kept(key, agent.water.ph, agent.acid)
    work = working(agent, kept)
    effective = work.effective_pct
    return AgentState(
        key=key,
        working=work,
        sets_on=SetsOn.NOTHING,
        flow=thickener_flow(agent, effective),
        flow_at=lambda dose: thickener_flow(agent, dose),
        haze=haze_of(key, len(agent.dose_pct)),
        frozen=freezing_of(key, len(agent.dose_pct)),
        doubt=LawDoubt(flow=flow_doubt(key)),
        is_extrapolated=_is_outside(agent, effective),
        origins=Origins(
            acid=loss_evidence(key),
            hydration=work.evidence,
            flow=flow_evidence(key),
            look=look_evidence(key),
        ),
        model="power law of shear" if key == _XANTHAN else "overlap law of random coils",
    )


def thickener_flow(agent: AgentInput, effective: Spans) -> Flow:
    """Return how the liquid flows with this gum in it, at serving temperature."""
    liquid = liquid_of(agent)
    dose = effective.scaled(1.0 / liquid.serum)
    if agent.key == _XANTHAN:
        return _xanthan_flow(agent, dose, liquid)
    law = coil_law(agent.key)
    rest = coil_thickness(np.stack(dose), law, liquid) * np.stack(charge_share(agent))
    return added_flow(Spans(*rest), liquid.base, half_stress=law.half_stress)


def coil_thickness(
    dose_pct: Array, law: CoilLaw, liquid: Liquid, *, overlap_pct: Array | None = None
) -> Array:
    """Return what coils add to the viscosity at rest when served [Pa·s], shape of the dose."""
    solvent = WATER_AT_REFERENCE * liquid.syrup**law.syrup_power
    whole = viscosity_overlap_law(
        dose_pct,
        overlap_dose=law.overlap_pct if overlap_pct is None else overlap_pct,
        overlap_specific_viscosity=law.at_overlap,
        solvent_viscosity=solvent,
        exponents=law.exponents,
    )
    warm = arrhenius_flow_factor(
        liquid.kelvin, activation_energy=law.activation_energy, reference_temperature=REFERENCE_K
    )
    return np.asarray((whole - solvent) * warm * liquid.droplets)


@cache
def coil_law(key: str) -> CoilLaw:
    """Return the law of a gum from its table rows; doses in percent, read as g/dL."""
    product = _figure(key, "overlap_product")
    if product is None:
        overlap = parameter(key, "overlap_concentration", "25 °C, no added sodium").value
    else:
        overlap = product.value / parameter(key, "intrinsic_viscosity").value
    return CoilLaw(
        overlap_pct=overlap,
        at_overlap=parameter(key, "overlap_specific_viscosity").value,
        exponents=(
            parameter(key, "viscosity_exponent_dilute").value,
            parameter(key, "viscosity_exponent_entangled").value,
        ),
        half_stress=parameter(key, "half_stress").value,
        activation_energy=1000.0 * parameter(key, "flow_activation_energy").value,
        syrup_power=parameter(key, "syrup_power").value,
    )


def charge_share(agent: AgentInput) -> Spans:
    """Return the share of its thickness that salts and acid leave a charged gum."""
    one = np.ones(len(agent.dose_pct))
    left = Spans.exact(one)
    for kind, salt in ((_SODIUM, monovalent(agent)), (_CALCIUM, agent.salts["calcium"])):
        floor = _figure(agent.key, "salt_floor", kind)
        if floor is None:
            continue
        half = parameter(agent.key, "salt_half", kind).value
        # The more salt, the thinner: the bounds change places.
        thinned = [
            floor.value + (1.0 - floor.value) / (1.0 + part / half)
            for part in (salt.value, salt.high, salt.low)
        ]
        left = Spans(*(a * b for a, b in zip(left, thinned, strict=True)))
    sour = _figure(agent.key, "acid_floor", _SOUR)
    if sour is None:
        return left
    onset = parameter(agent.key, "acid_onset").value
    acid = (np.interp(part, (_SOUREST, onset), (sour.value, 1.0)) for part in agent.water.ph)
    return Spans(*(a * b for a, b in zip(left, acid, strict=True)))


def monovalent(agent: AgentInput) -> Spans:
    """Return free sodium and potassium together, in mmol per kg of water."""
    pair = zip(agent.salts["sodium"], agent.salts["potassium"], strict=True)
    return Spans(*(a + b for a, b in pair))


def _xanthan_flow(agent: AgentInput, dose: Spans, liquid: Liquid) -> Flow:
    """Return the power law of xanthan; sugar hardly changes what it adds."""
    thin = parameter(_XANTHAN, "flow_index_at_1pct", _KITCHEN).value
    thin_power = parameter(_XANTHAN, "flow_index_exponent", _KITCHEN).value
    at_1pct = parameter(_XANTHAN, "consistency_at_1pct", _KITCHEN).value
    power = parameter(_XANTHAN, "consistency_exponent", _KITCHEN).value
    least = parameter(_XANTHAN, "least_fitted_dose").value
    energy = 1000.0 * parameter(_XANTHAN, "flow_activation_energy").value
    factor = liquid.droplets * arrhenius_flow_factor(
        liquid.kelvin, activation_energy=energy, reference_temperature=REFERENCE_K
    )
    doses = np.stack(dose)
    added = viscosity_power_law(
        SHEAR_RATES,
        consistency=(at_1pct * doses**power * _salt_gain(agent, doses) * factor)[..., None],
        flow_index=(thin * np.maximum(doses, least) ** thin_power)[..., None],
    )
    return Flow(Spans(*added), liquid.base)


def _salt_gain(agent: AgentInput, doses: Array) -> Array:
    """Return how salt thickens xanthan: nothing up to a dose, all of it at twice that dose."""
    gain = parameter(_XANTHAN, "salt_gain", "well above salt_gain_dose").value - 1.0
    start = parameter(_XANTHAN, "salt_gain_dose").value
    half = parameter(_XANTHAN, "salt_gain_half", _SODIUM).value
    salt = np.stack(monovalent(agent))
    return np.asarray(1.0 + gain * np.clip(doses / start - 1.0, 0.0, 1.0) * salt / (salt + half))


def flow_doubt(key: str) -> float:
    """Return what the law leaves open of the thickness, as a half width on the log axis."""
    spread = parameter(key, "thickness_spread")
    return log_half_width(spread.low, spread.high)


def haze_of(key: str, count: int) -> Spans:
    """Return how cloudy a gum makes water, from 0 clear to 1 opaque."""
    haze = parameter(key, "haze")
    return Spans(*(np.full(count, bound) for bound in haze[:3]))


def freezing_of(key: str, count: int) -> Codes:
    """Return whether a thickened liquid comes through freezing."""
    told = agent_rows()[key].texts["freeze_thaw"].text.split(";")[0]
    return np.full(count, _FREEZING[told], dtype=np.int8)


@cache
def flow_evidence(key: str) -> Evidence:
    """Return the citations behind the thickness of a gum."""
    if key == _XANTHAN:
        names = ("consistency_at_1pct", "consistency_exponent", "flow_index_at_1pct")
        found = [parameter(key, name, _KITCHEN) for name in names]
    else:
        names = ("overlap_specific_viscosity", "viscosity_exponent_entangled", "half_stress")
        found = [parameter(key, name) for name in names]
        if _figure(key, "overlap_product") is not None:
            found += [parameter(key, n) for n in ("intrinsic_viscosity", "overlap_product")]
    more = ("flow_activation_energy", "thickness_spread")
    return evidence_of(*found, *(parameter(key, name) for name in more))


@cache
def look_evidence(key: str) -> Evidence:
    """Return the citations behind haze and freezing."""
    frozen = agent_rows()[key].texts["freeze_thaw"].citation
    return tuple(dict.fromkeys((parameter(key, "haze").citation, frozen)))


def _is_outside(agent: AgentInput, effective: Spans) -> NDArray[np.bool_]:
    window = parameter(agent.key, "ph_window")
    ph = agent.water.ph.value
    most = parameter(agent.key, "dose").high
    return np.asarray((effective.value > most) | (ph < window.low) | (ph > window.high))


@cache
def _figure(key: str, name: str, conditions: str = "") -> Parameter | None:
    """Return a figure of a gum, None where it has none."""
    try:
        return parameter(key, name, conditions)
    except MissingDataError:
        return None
