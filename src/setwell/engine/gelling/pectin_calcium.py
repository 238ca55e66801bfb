"""Low-methoxyl pectin: sets with calcium on cooling, and mostly melts again."""

from functools import cache

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.doubt import LawDoubt
from setwell.engine.gelling.fracture import fracture_evidence, gel_of, strain_doubt
from setwell.engine.gelling.hydration import working
from setwell.engine.gelling.needs import (
    calcium_at_hand,
    calcium_ratio,
    modulus_of,
    soluble_solids,
)
from setwell.engine.gelling.parameters import constant, evidence_of, parameter
from setwell.engine.gelling.pectin_loss import pectin_kept, pectin_loss_evidence
from setwell.engine.gelling.sol import SOL_DOUBT, sol_flow
from setwell.engine.gelling.state import (
    CANNOT_TELL,
    AgentInput,
    AgentState,
    Condition,
    Origins,
)
from setwell.engine.gelling.window import inside
from setwell.engine.spans import Spans, log_half_width
from setwell.provenance import Evidence
from setwell.science.gels.ion_gel import dose_tied

Array = NDArray[np.float64]

# Solids between which the calcium need falls (our judgment).
_RELIEF_SOLIDS = (30.0, 65.0)
# Setting is followed over this much of calcium around the need; a gel keeps at least this share
# of its strength, however much calcium there is (our judgment).
_DOUBLINGS, _LEAST_LEFT = 2.0, 0.4
_SET_LIMITS_C = (15.0, 95.0)
# So far outside the table's pH window nobody expects a gel; milk lies between (our judgment).
_PH_EDGE, _MOST_PCT = 1.5, 2.5

# Five on gelling, two on setting, and the rest.
_FIGURES = (
    "critical_concentration", "calcium_per_gram", "calcium_start", "solids_window", "ph_window",
    "setting_temperature", "setting_per_calcium_doubling", "hysteresis", "modulus_at_reference",
    "modulus_exponent", "overlap_concentration", "haze", "weeping",
)  # fmt: skip


def pectin_calcium(agent: AgentInput) -> AgentState:
    """Return what low-methoxyl pectin, amidated or not, does in n batches."""
    key, count = agent.key, len(agent.dose_pct)
    solids = soluble_solids(agent)
    calcium, relief = calcium_at_hand(agent), _relief(key, solids.value)
    ratio = calcium_ratio(agent, calcium)
    set_c = _sets_at(key, ratio, relief)
    kept = pectin_kept(agent)
    work = working(agent, kept)
    effective = work.effective_pct
    limits, gap = parameter(key, "critical_concentration"), parameter(key, "hysteresis")
    setting, stiff = parameter(key, "setting_temperature"), parameter(key, "modulus_at_reference")
    doubt_c = (setting.high - setting.low) / 2.0
    return AgentState(
        key=key,
        working=work,
        critical_pct=constant(limits, count),
        conditions=(
            _enough_calcium(key, ratio, relief),
            _solids_in_range(key, solids),
            _ph_in_range(agent),
        ),
        set_c=set_c,
        melt_c=Spans(*(part + gap.value for part in set_c)),
        gel=gel_of(key, _modulus(key, effective, calcium, ratio, relief)),
        flow=sol_flow(agent, effective),
        haze=constant(parameter(key, "haze"), count),
        weeps_pct=_weeping(key, ratio, relief),
        frozen=np.full(count, CANNOT_TELL),
        doubt=LawDoubt(
            strength=log_half_width(stiff.low, stiff.high),
            strain=strain_doubt(key),
            setting=doubt_c,
            melting=float(np.hypot(doubt_c, (gap.high - gap.low) / 2.0)),
            flow=SOL_DOUBT,
        ),
        is_extrapolated=effective.value > _MOST_PCT,
        origins=Origins(hydration=work.evidence, **_sources(key)),
        model="pectin: as much as the calcium ties, power law",
    )


@cache
def _sources(key: str) -> dict[str, Evidence]:
    """Return where the numbers of a pectin come from, besides dissolving."""
    found = {name: parameter(key, name) for name in _FIGURES}
    return {
        "acid": pectin_loss_evidence(key),
        "gelling": evidence_of(*(found[name] for name in _FIGURES[:5])),
        "setting": evidence_of(*(found[name] for name in _FIGURES[5:7])),
        "melting": evidence_of(found["setting_temperature"], found["hysteresis"]),
        "strength": evidence_of(found["modulus_at_reference"], found["modulus_exponent"]),
        "fracture": fracture_evidence(key),
        "flow": evidence_of(found["overlap_concentration"]),
        "look": evidence_of(found["haze"], found["weeping"]),
    }


def _relief(key: str, solids: Array) -> Array:
    """Return the calcium need over that of a watery batch: less at high solids."""
    at_high = parameter(key, "calcium_solids_relief").value
    return np.asarray(np.interp(solids, _RELIEF_SOLIDS, (1.0, at_high)))


def _ties_mg_g(key: str) -> float:
    """Return the calcium that ties all of a gram, the middle of its range on the log axis."""
    want = parameter(key, "calcium_per_gram")
    return float(np.sqrt(want.low * want.high))


def _sets_at(key: str, ratio: Spans, relief: Array) -> Spans:
    """Return where it sets; more calcium for each gram sets it warmer."""
    middle = parameter(key, "setting_temperature").value
    slope = parameter(key, "setting_per_calcium_doubling").value
    need = _ties_mg_g(key) * relief
    most = 2.0**_DOUBLINGS
    near = np.minimum(np.maximum(np.array(ratio) / need, 1.0 / most), most)
    found = middle + slope * np.log2(near)
    return Spans(*np.minimum(np.maximum(found, _SET_LIMITS_C[0]), _SET_LIMITS_C[1]))


def _enough_calcium(key: str, ratio: Spans, relief: Array) -> Condition:
    start, want = parameter(key, "calcium_start"), parameter(key, "calcium_per_gram")
    scaled = Spans(*(part / relief for part in ratio))
    holds = inside(scaled, (start.high, np.inf), (start.low, np.inf))
    # Far too much may gel in the pot and turn grainy.
    holds = np.where(scaled.low > want.high, np.minimum(holds, CANNOT_TELL), holds)
    need = (
        f"{want.low:.0f} to {want.high:.0f} mg of free calcium per gram of pectin, less in sweet "
        "batches; far more turns it grainy"
    )
    return Condition("calcium", holds.astype(np.int8), ratio, "mg/g", need)


def _solids_in_range(key: str, solids: Spans) -> Condition:
    window = parameter(key, "solids_window")
    # Down to plain water it may still set with calcium enough, up there it is a matter of luck.
    holds = inside(solids, (-1.0, window.high), (-1.0, window.high + 5.0))
    holds = np.where(solids.high < window.low, np.minimum(holds, CANNOT_TELL), holds)
    need = f"{window.low:.0f} to {window.high:.0f} % dissolved solids"
    return Condition("dissolved solids", holds.astype(np.int8), solids, "%", need)


def _ph_in_range(agent: AgentInput) -> Condition:
    window = parameter(agent.key, "ph_window")
    outer = (window.low - _PH_EDGE, window.high + _PH_EDGE)
    holds = inside(agent.water.ph, (window.low, window.high), outer)
    return Condition(
        "acidity", holds, agent.water.ph, "pH", f"pH {window.low:.1f} to {window.high:.1f}"
    )


def _modulus(key: str, effective: Spans, calcium: Spans, ratio: Spans, relief: Array) -> Spans:
    want = parameter(key, "calcium_per_gram")
    need = _ties_mg_g(key) * relief / 1000.0
    tied = Spans(*(100.0 * dose_tied(np.array(effective) / 100.0, np.array(calcium), need=need)))
    plain = modulus_of(key, tied)
    # Too much calcium coarsens the gel: a falling share beyond the range of the need.
    left = [_left(want.high * relief, part) for part in ratio]
    least, most = np.minimum(left[2], left[0]), np.maximum(left[1], left[0])
    return Spans(plain.value * left[0], plain.low * least, plain.high * most)


def _left(enough: Array, ratio: Array) -> Array:
    over = enough / np.maximum(ratio, 1e-9)
    return np.asarray(np.minimum(np.maximum(over, _LEAST_LEFT), 1.0))


def _weeping(key: str, ratio: Spans, relief: Array) -> Spans:
    calm, much = parameter(key, "weeping"), parameter(key, "excess_weeping")
    over = ratio.value > parameter(key, "calcium_per_gram").high * relief
    return Spans(*(np.where(over, b, a) for a, b in zip(calm[:3], much[:3], strict=True)))
