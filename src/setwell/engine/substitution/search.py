"""The dose that keeps the target, from two passes over many doses each."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from setwell.engine.batch_size import masses_solve
from setwell.engine.gelling.state import AgentState
from setwell.engine.pipeline import BatchState, batch_assess
from setwell.engine.plan import Plan, plan_build
from setwell.engine.process import steps_read
from setwell.engine.substitution.draft import Draft, amounts_at
from setwell.engine.substitution.original import kept_value
from setwell.errors import MissingDataError
from setwell.tables.agents import agent_rows

Array = NDArray[np.float64]

_COARSE, _FINE = 48, 33
# The search goes this far below and above the usual doses (our judgment).
_BELOW, _ABOVE = 0.1, 3.0
# A step past the target by more than this is no dose that keeps it (our judgment).
_JUMP = 1.25
_LEAST_PCT, _MOST_PCT = 0.005, 40.0
# A dose this much above the usual is nothing anyone would eat (our judgment).
FAR_OUTSIDE = 2.0


class Search(NamedTuple):
    """The dose found in grams, and what the doses tried came to.

    `low` and `high` are the doses where the doubt of the new agent alone meets the target; NaN
    where it never does. `values` are what is kept at `tried` grams.
    """

    grams: float
    low: float
    high: float
    is_reached: bool
    tried: Array
    values: Array
    state: BatchState

    def agent(self, key: str) -> AgentState:
        """Return the new agent at all doses tried."""
        return self.state.agents[key]


def usual_doses(key: str) -> tuple[float, float]:
    """Return the lowest and the highest usual dose in percent."""
    try:
        row = agent_rows()[key].figure("dose")
    except MissingDataError:
        return 0.1, 3.0
    return row.low or row.value / 3.0, row.high or row.value * 3.0


def dose_find(draft: Draft) -> Search:
    """Return the least dose that reaches the target, or the one that comes nearest."""
    low, high = usual_doses(draft.key)
    side = None if draft.material is None else draft.material.agent
    strength = 1.0 if side is None else side.strength_factor
    ends = np.clip([_BELOW * low, _ABOVE * high], _LEAST_PCT, _MOST_PCT) / min(strength, 1.0)
    whole = draft.original.finished_g / 100.0
    plan = plan_build(
        draft.formula(whole), catalog=draft.catalog, parts=draft.original.kitchen.parts
    )
    coarse = _tried(draft, plan, np.geomspace(ends[0], ends[1], _COARSE) * whole)
    at = _crossing(coarse.values[0], _target_of(draft))
    if at is None:
        nearest = int(np.argmin(np.abs(coarse.values[0] - _target_of(draft))))
        grams = float(coarse.grams[nearest])
        return _missed(grams, coarse)
    start, end = coarse.grams[max(at - 1, 0)], coarse.grams[at]
    fine = _tried(draft, plan, np.geomspace(start, end, _FINE)) if at > 0 else coarse
    found = _crossing(fine.values[0], _target_of(draft))
    if found is not None and fine.values[0][found] > _JUMP * _target_of(draft):
        # It sets all at once: the least dose that sets is the nearest there is.
        return _missed(float(fine.grams[found]), coarse)
    is_reached = True
    return Search(
        _at_target(fine.grams, fine.values[0], _target_of(draft)),
        _at_target(coarse.grams, coarse.values[2], _target_of(draft)),
        _at_target(coarse.grams, coarse.values[1], _target_of(draft)),
        is_reached,
        coarse.grams, coarse.values[0], coarse.state,
    )  # fmt: skip


class _Tried(NamedTuple):
    grams: Array
    # Middle, low and high end of what is kept, (3, n).
    values: Array
    state: BatchState


def _missed(grams: float, tried: _Tried) -> Search:
    """Return the nearest dose where none keeps the target."""
    is_reached = False
    return Search(grams, np.nan, np.nan, is_reached, tried.grams, tried.values[0], tried.state)


def _tried(draft: Draft, plan: Plan, grams: Array) -> _Tried:
    amounts = plan.amounts
    fixed = np.tile(amounts.fixed, (len(grams), 1))
    added = amounts_at(draft, grams)
    first = draft.original.readings[0].number
    row = next(n for n, at in enumerate(plan.used) if plan.readings[at].number == first)
    fixed[:, row : row + added.shape[1]] = added
    masses = masses_solve(
        fixed,
        percent=amounts.percent,
        existing=amounts.existing,
        evaporation=np.full(len(grams), plan.evaporation),
        make_up_to=amounts.make_up_to,
        make_up_line=amounts.make_up_line,
        ratio=amounts.ratio,
        is_agent=amounts.is_agent,
    )
    state = batch_assess(
        plan, np.clip(masses, 0.0, None), steps=steps_read(plan.formula.steps),
        corrections=draft.original.kitchen.corrections,
    )  # fmt: skip
    found = kept_value(state.texture, draft.original.keep)
    values = np.zeros((3, len(grams))) if found is None else np.nan_to_num(np.stack(found))
    return _Tried(grams, values, state)


def _target_of(draft: Draft) -> float:
    return draft.original.target.value


def _crossing(values: Array, target: float) -> int | None:
    """Return the first dose at or above the target."""
    above = np.flatnonzero(values >= target)
    return int(above[0]) if len(above) else None


def _at_target(grams: Array, values: Array, target: float) -> float:
    """Return the dose at the first crossing, on a line between two doses; NaN where none."""
    at = _crossing(values, target)
    if at is None:
        return float("nan")
    if at == 0 or values[at] == values[at - 1]:
        return float(grams[at])
    part = (target - values[at - 1]) / (values[at] - values[at - 1])
    return float(grams[at - 1] + part * (grams[at] - grams[at - 1]))
