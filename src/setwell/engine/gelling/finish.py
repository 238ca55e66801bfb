"""From what a model says to what holds in the kitchen: doubts joined, verdict, serving warmth."""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.doubt import (
    Corrections,
    LawDoubt,
    prior,
    widen_kelvin,
    widen_ratio,
)
from setwell.engine.gelling.state import (
    CANNOT_TELL,
    NO,
    YES,
    AgentInput,
    AgentState,
    Codes,
    Flow,
    Gel,
    OtherLaw,
    SetsOn,
)
from setwell.engine.spans import Spans

Array = NDArray[np.float64]

# The law of a gel that melts early is taken to hold this far below its melting point [K].
_CLEAR_OF_MELTING_K = 10.0
# With less water than this nothing dissolves (our judgment) [kg/kg].
LEAST_WATER = 0.1


def finish(
    state: AgentState, agent: AgentInput, corrections: Corrections, *, is_part: bool = False
) -> AgentState:
    """Return the state with the doubt of its laws, its verdict and its firmness when served.

    A part of a sold blend stays at the temperature of its law.
    """
    doubt = state.doubt
    setting = corrections.setting or prior(doubt.setting)
    # A lot that sets warmer melts warmer, unless its melting was measured too.
    melting = corrections.melting or prior(doubt.melting)._replace(shift=setting.shift)
    flow = corrections.flow or prior(doubt.flow)
    set_c = None if state.set_c is None else widen_kelvin(state.set_c, setting)
    melt_c = None if state.melt_c is None else widen_kelvin(state.melt_c, melting)
    is_cooled = state.sets_on is SetsOn.COOLING
    if set_c is not None and melt_c is not None and is_cooled:
        # No gel melts below where it sets.
        melt_c = Spans(*(np.maximum(a, b) for a, b in zip(melt_c, set_c, strict=True)))

    def finished(gel: Gel) -> Gel:
        wide = _widened(gel, doubt, corrections)
        if is_part or melt_c is None or not is_cooled:
            return wide
        return served(wide, melt_c, state.reference_c, agent.serving_c)

    def flowing(raw: Flow) -> Flow:
        return Flow(widen_ratio(raw.added, flow), raw.base, raw.rates)

    gel_at, flow_at = state.gel_at, state.flow_at
    done = replace(
        state,
        gel=None if state.gel is None else finished(state.gel),
        gel_at=None if gel_at is None else lambda dose: finished(gel_at(dose)),
        flow=None if state.flow is None else flowing(state.flow),
        flow_at=None if flow_at is None else lambda dose: flowing(flow_at(dose)),
        set_c=set_c,
        melt_c=melt_c,
        other_set=state.other_set
        and OtherLaw(state.other_set.name, widen_kelvin(state.other_set.set_c, setting)),
        readings=corrections.readings,
    )
    return replace(
        done,
        sets=_gel_forms(done, agent, state.effective_pct),
        sets_at=lambda dose: _gel_forms(done, agent, dose),
    )


def _widened(gel: Gel, doubt: LawDoubt, corrections: Corrections) -> Gel:
    strength = corrections.strength or prior(doubt.strength)
    strain = corrections.strain or prior(doubt.strain)
    at_break = (corrections.stress,) if corrections.stress is not None else (strength, strain)
    return Gel(
        widen_ratio(gel.modulus, strength),
        widen_ratio(gel.fracture_stress, *at_break),
        widen_ratio(gel.fracture_strain, strain),
    )


def _gel_forms(state: AgentState, agent: AgentInput, effective_pct: Spans) -> Codes:
    """Return yes, no or cannot tell: enough agent, its conditions, and cold or hot enough."""
    count = len(agent.dose_pct)
    if state.critical_pct is None:
        # Without a law nobody can tell, but a thickener never sets.
        return np.full(count, NO if state.sets_on is SetsOn.NOTHING else CANNOT_TELL)
    codes = [enough(effective_pct, state.critical_pct)]
    codes += [condition.holds for condition in state.conditions]
    codes.append(np.where(agent.water_share < LEAST_WATER, NO, YES).astype(np.int8))
    if state.set_c is not None and state.sets_on is SetsOn.COOLING:
        codes.append(cold_enough(agent.process.coldest_c, state.set_c))
    if state.set_c is not None and state.sets_on is SetsOn.HEATING:
        codes.append(_hot_enough(agent.path.peak_c, state.set_c))
    return np.asarray(np.minimum.reduce(codes), dtype=np.int8)


def enough(effective: Spans, critical: Spans) -> Codes:
    """Return yes, no or cannot tell: is there enough agent for a gel."""
    # A dose right at the limit is the same dose in every batch size, whatever its last digit.
    most, least = critical.high * (1.0 - 1e-6), critical.low * (1.0 - 1e-6)
    codes = np.where(effective.low >= most, 1, np.where(effective.high < least, -1, 0))
    return codes.astype(np.int8)


def cold_enough(coldest_c: Array, set_c: Spans) -> Codes:
    """Return yes, no or cannot tell: does it get below its setting temperature."""
    cold = np.where(coldest_c <= set_c.low, 1, np.where(coldest_c > set_c.high, -1, 0))
    return cold.astype(np.int8)


def _hot_enough(peak_c: Array, set_c: Spans) -> Codes:
    hot = np.where(peak_c >= set_c.high, 1, np.where(peak_c < set_c.low, -1, 0))
    return np.broadcast_to(hot, set_c.value.shape).astype(np.int8)


def served(gel: Gel, melt_c: Spans, reference_c: float, serving_c: Array) -> Gel:
    """Return the gel at serving temperature: softer towards its melting point, then gone.

    A straight line from the law's own temperature to the melting point (our judgment).
    """
    left = Spans(
        *(
            np.clip(
                (melt - serving_c) / np.maximum(melt - reference_c, _CLEAR_OF_MELTING_K), 0, 1.5
            )
            for melt in melt_c
        )
    )
    low, high = np.minimum(left.low, left.value), np.maximum(left.high, left.value)
    # A colder gel is the other way round: a low melting point then gains most.
    low, high = np.minimum(low, left.high), np.maximum(high, left.low)
    modulus, stress = (
        Spans(part.value * left.value, part.low * low, part.high * high)
        for part in (gel.modulus, gel.fracture_stress)
    )
    return Gel(modulus, stress, gel.fracture_strain)


def standing(gel: Gel, sets: Codes) -> Gel:
    """Return a gel as far as it forms: nothing where it does not."""
    surely = (sets == YES).astype(np.float64)
    maybe = (sets > NO).astype(np.float64)
    modulus, stress = (
        Spans(part.value * maybe, part.low * surely, part.high * maybe)
        for part in (gel.modulus, gel.fracture_stress)
    )
    return Gel(modulus, stress, gel.fracture_strain)
