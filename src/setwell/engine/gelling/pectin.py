"""High-methoxyl pectin: sets once with sugar and acid, and never melts."""

from functools import cache

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.doubt import LawDoubt
from setwell.engine.gelling.fracture import fracture_evidence, gel_of, strain_doubt
from setwell.engine.gelling.hydration import working
from setwell.engine.gelling.needs import (
    anchored_modulus,
    share_inside,
    soluble_solids,
)
from setwell.engine.gelling.parameters import constant, evidence_of, parameter
from setwell.engine.gelling.pectin_loss import pectin_kept, pectin_loss_evidence
from setwell.engine.gelling.sol import SOL_DOUBT, sol_flow
from setwell.engine.gelling.state import (
    CANNOT_TELL,
    KELVIN,
    NO,
    YES,
    AgentInput,
    AgentState,
    Condition,
    Origins,
)
from setwell.engine.gelling.window import inside
from setwell.engine.spans import Spans, log_half_width
from setwell.provenance import Evidence
from setwell.science.gels.pectin import dose_of_graded_gel, setting_temperature_sugar_acid

Array = NDArray[np.float64]

# The grades for which the supplier's setting table holds.
_TABLE = "60 °Brix and more, pH 2.9 to 3.4"
# The same test gel, pressed with slip at the plates and without.
_GRADED = ("150-SAG gel, no slip", "150-SAG gel, slip")
# No pot of pectin sets above its boil or below the fridge.
_LIMITS_C = (5.0, 105.0)
# What a preserve keeps of its strength at these solids, and how far outside the pH window the
# gel is gone (our judgment, drawn around the two windows).
_SOLIDS_SHARE = (0.0, 0.4, 1.0, 1.0)
_PH_SHARE, _PH_GONE = (0.3, 0.7, 1.0, 1.0, 0.4, 0.0), 0.3
_MOST_PCT = 2.5
# Three on gelling, three on setting, and the rest.
_FIGURES = (
    "critical_concentration", "soluble_solids", "ph_window",
    "setting_temperature", "setting_per_solids", "setting_per_ph",
    "sag_grade", "modulus_exponent", "overlap_concentration", "haze", "weeping",
)  # fmt: skip


def pectin_sugar_acid(agent: AgentInput) -> AgentState:
    """Return what high-methoxyl pectin does in n batches."""
    key, count = agent.key, len(agent.dose_pct)
    solids = soluble_solids(agent)
    set_c = _sets_at(agent, solids)
    kept = pectin_kept(agent)
    work = working(agent, kept)
    effective = work.effective_pct
    limits = parameter(key, "critical_concentration")
    return AgentState(
        key=key,
        working=work,
        critical_pct=constant(limits, count),
        conditions=(_enough_solids(key, solids), _sour_enough(agent)),
        set_c=set_c,
        gel=gel_of(key, _modulus(agent, effective, solids)),
        flow=sol_flow(agent, effective),
        haze=constant(parameter(key, "haze"), count),
        weeps_pct=_weeping(agent),
        frozen=np.full(count, YES),
        doubt=LawDoubt(
            strength=_strength_doubt(key),
            strain=strain_doubt(key),
            setting=_setting_doubt(key),
            flow=SOL_DOUBT,
        ),
        is_extrapolated=effective.value > _MOST_PCT,
        origins=Origins(hydration=work.evidence, **_sources(key)),
        model="pectin: graded test gel, by solids and pH",
    )


@cache
def _sources(key: str) -> dict[str, Evidence]:
    """Return where the numbers of a pectin come from, besides dissolving."""
    found = {name: parameter(key, name) for name in _FIGURES}
    table = parameter(key, "setting_temperature", _TABLE)
    graded = (parameter("pectin_HM_rapid", "modulus", c) for c in _GRADED)
    return {
        "acid": pectin_loss_evidence(key),
        "gelling": evidence_of(*(found[name] for name in _FIGURES[:3])),
        "setting": evidence_of(table, *(found[name] for name in _FIGURES[3:6])),
        "strength": evidence_of(*graded, found["sag_grade"], found["modulus_exponent"]),
        "fracture": fracture_evidence(key),
        "flow": evidence_of(found["overlap_concentration"]),
        "look": evidence_of(found["haze"], found["weeping"]),
    }


@cache
def graded_gel(key: str) -> tuple[float, float]:
    """Return the dose in percent and the modulus in Pa of the gel that the grade is stated by."""
    solids = parameter(key, "sag_solids").value / 100.0
    dose = dose_of_graded_gel(solids, sag_grade=parameter(key, "sag_grade").value)
    no_slip, slip = (parameter("pectin_HM_rapid", "modulus", c).value for c in _GRADED)
    return 100.0 * float(dose), float(np.sqrt(no_slip * slip))


def _enough_solids(key: str, solids: Spans) -> Condition:
    window, sure = parameter(key, "soluble_solids"), parameter(key, "solids_sure").value
    holds = inside(solids, (sure, window.high), (window.low, 100.0))
    need = (
        f"{window.low:.0f} to {window.high:.0f} % dissolved solids, {sure:.0f} to be sure: "
        "boil it down or add sugar"
    )
    return Condition("dissolved solids", holds, solids, "%", need)


def _sour_enough(agent: AgentInput) -> Condition:
    window, ph = parameter(agent.key, "ph_window"), agent.water.ph
    best = parameter(agent.key, "ph_best")
    holds = inside(ph, (window.low, window.high), (window.low - _PH_GONE, window.high))
    # Too sour is no reason not to set, only to set early and weep.
    holds = np.where((holds == NO) & (ph.high < window.low), CANNOT_TELL, holds)
    need = f"pH {window.low:.1f} to {window.high:.1f}, best {best.low:.1f} to {best.high:.1f}"
    return Condition("acidity", holds.astype(np.int8), ph, "pH", need)


def _sets_at(agent: AgentInput, solids: Spans) -> Spans:
    """Return where it sets; sourer and sweeter batches set warmer."""
    key, ph = agent.key, agent.water.ph
    found = setting_temperature_sugar_acid(
        np.array(solids) / 100.0,
        np.array([ph.value, ph.high, ph.low]),
        reference_temperature=parameter(key, "setting_temperature", _TABLE).value + KELVIN,
        reference_solids=parameter(key, "setting_reference_solids").value / 100.0,
        reference_ph=parameter(key, "setting_reference_ph").value,
        rise_per_solids=100.0 * parameter(key, "setting_per_solids").value,
        rise_per_ph=parameter(key, "setting_per_ph").value,
        limits=(_LIMITS_C[0] + KELVIN, _LIMITS_C[1] + KELVIN),
    )
    return Spans(*(found - KELVIN))


@cache
def _setting_doubt(key: str) -> float:
    """Return the doubt of the setting temperature: that of the lot, and of both slopes."""
    lot = parameter(key, "setting_temperature")
    solids, ph = parameter(key, "setting_per_solids"), parameter(key, "setting_per_ph")
    wide, sour = (
        parameter(key, "setting_reference_solids"),
        parameter(key, "setting_reference_ph"),
    )
    parts = (
        lot.high - lot.low,
        (solids.high - solids.low) * (wide.high - wide.low) / 2.0,
        (ph.high - ph.low) * (sour.high - sour.low) / 2.0,
    )
    return float(np.linalg.norm(parts)) / 2.0


def _modulus(agent: AgentInput, effective: Spans, solids: Spans) -> Spans:
    key = agent.key
    dose, modulus = graded_gel(key)
    plain = anchored_modulus(key, effective, reference_pa=modulus, reference_pct=dose)
    window, best = parameter(key, "ph_window"), parameter(key, "ph_best")
    places = (
        window.low - _PH_GONE, window.low, best.low, best.high, window.high,
        window.high + _PH_GONE,
    )  # fmt: skip
    sour = share_inside(agent.water.ph, places, _PH_SHARE)
    range_ = parameter(key, "soluble_solids")
    at_full = parameter(key, "sag_solids").value
    dry = share_inside(solids, (range_.low - 5.0, range_.low, at_full, 100.0), _SOLIDS_SHARE)
    return Spans(*(a * b * c for a, b, c in zip(plain, sour, dry, strict=True)))


def _strength_doubt(key: str) -> float:
    spread = parameter(key, "lot_spread")
    return log_half_width(spread.low, spread.high)


def _weeping(agent: AgentInput) -> Spans:
    calm, sour = parameter(agent.key, "weeping"), parameter(agent.key, "weeping_sour")
    over = agent.water.ph.value < parameter(agent.key, "ph_window").low
    return Spans(*(np.where(over, b, a) for a, b in zip(calm[:3], sour[:3], strict=True)))
