"""The last step of a search: doses near a start, judged by the whole engine, and rounded."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np
from numpy.typing import NDArray

from setwell.domain.brief import Helper
from setwell.engine.gelling.doubt import Corrections
from setwell.engine.pipeline import BatchState, batch_assess, process_of
from setwell.engine.process import steps_read
from setwell.engine.proposals.draft import ProposalDraft
from setwell.engine.proposals.predicted import Predicted, predicted_of
from setwell.engine.proposals.prices import cost_of, prices_of
from setwell.engine.proposals.tables import counts_from, dose_burden
from setwell.engine.proposals.usual_span import usual_span
from setwell.science.designs.box_search import box_refine

Array = NDArray[np.float64]
Objective = Callable[[Predicted], Array]

ROUNDS, POINTS = 3, 32
# How far below and above the usual doses it goes, and around a helper (our judgment).
_BELOW, _ABOVE = 0.2, 1.5
_HELPER = 3.0
_MOST_PCT = 40.0
# Beyond these a salt is tasted: bitter, sour-salty (common practice, no source).
HELPER_MOST_PCT = {
    Helper.POTASSIUM_CHLORIDE.value: 0.25,
    Helper.CALCIUM_LACTATE.value: 0.6,
    Helper.TRISODIUM_CITRATE.value: 0.3,
}
# The first cloud in parts of the box: about one step of the doses that a search tries.
_WIDTH = 0.06
# Rounding moves no dose by more than this share of it.
_FINE = 0.02
# What e times as much of an agent has to bring: well inside a wish is not worth any dose.
_PER_FOLD = 0.05
# What a gel costs that sets by less than a tenth more than the least that surely does (our
# judgment).
_PER_DOUBT, _SURELY, _LEAST_PCT = 0.1, 1.1, 1e-6
# An agent that is left out costs as little as this part of its usual dose.
_TRACE = 1e-3


@dataclass(frozen=True, slots=True, eq=False)
class Refined:
    """Doses in percent as they are weighed, what they come to, and the objective there.

    `predicted` holds arrays of one candidate. `exact_value` is the objective at the doses
    before they were rounded, `start_value` that at the start; what doses cost is in all of them.
    `burden` is what the doses taken cost in the order, and that they only just set; `brings` by
    how much the objective alone is worse at these doses without each agent.
    """

    percents: tuple[float, ...]
    predicted: Predicted
    value: float
    exact_value: float
    start_value: float
    burden: float = 0.0
    brings: tuple[float, ...] = ()


def refine(
    draft: ProposalDraft,
    start_percents: Sequence[float],
    *,
    objective: Objective,
    rounds: int = ROUNDS,
    points: int = POINTS,
    seed: int = 1,
    corrections: Mapping[str, Corrections] | None = None,
) -> Refined:
    """Return the doses near a start at which the objective is least.

    `start_percents` go along `draft.agents` and `draft.helpers`; what has none stays without.
    The objective judges many candidates at once, the lower the better; what the doses cost in
    the order is added to it, so that no powder is raised for nothing. Nothing is asked more
    than rounds + 1 times; the answer may be worse than the start by what rounding does.
    """
    start = np.asarray(start_percents, dtype=np.float64)
    judge = _Judge(draft, objective, corrections)
    is_in = start > 0
    if not is_in.any():
        value, found = judge(start[None, :])
        return Refined(tuple(start.tolist()), found, *(3 * (float(value[0]),)))
    low, high = _bounds(draft, start)
    axes = np.log(low[is_in]), np.log(high[is_in])

    def doses(logs: Array) -> Array:
        percents = np.zeros((len(logs), len(start)))
        percents[:, is_in] = np.exp(logs)
        return percents

    search = box_refine(
        lambda logs: judge(doses(logs))[0],
        starts=np.log(start[is_in])[None, :],
        lower=axes[0], upper=axes[1], width=_WIDTH, rounds=rounds, cloud_points=points, seed=seed,
    )  # fmt: skip
    exact, agents = doses(search.point[None, :])[0], len(draft.agents)
    offered, fewer = rounded(exact), _each_left_out(exact, agents)
    values, found = judge(np.concatenate([offered, fewer]))
    best = int(np.argmin(values[: len(offered)]))
    alone = np.asarray(objective(found), dtype=np.float64)
    return Refined(
        tuple(float(part) for part in offered[best]),
        found.taken(np.array([best])),
        float(values[best]),
        search.value,
        float(search.values[0]),
        float(values[best] - alone[best] - folds(offered[best : best + 1, :agents], judge.high)[0]),
        tuple((alone[len(offered) :] - alone[best]).tolist()),
    )


def _each_left_out(percents: Array, agents: int) -> Array:
    """Return the doses without each agent in turn, (agents, lines); none for a single agent."""
    if agents == 1:
        return np.zeros((0, len(percents)))
    fewer = np.tile(percents, (agents, 1))
    fewer[np.arange(agents), np.arange(agents)] = 0.0
    return fewer


class _Judge:
    """A draft at many doses, computed by the whole engine and judged."""

    def __init__(
        self,
        draft: ProposalDraft,
        objective: Objective,
        corrections: Mapping[str, Corrections] | None,
    ) -> None:
        self.draft, self.objective, self.corrections = draft, objective, corrections
        self.plan, self.prices = draft.plan(), prices_of(draft)
        self.steps = steps_read(self.plan.formula.steps)
        self.process = process_of(self.plan, self.steps)
        self.keys = tuple(agent.key for agent in draft.agents)
        self.high = np.array([usual_span(agent.key)[1] for agent in draft.agents])

    def __call__(self, percents: Array) -> tuple[Array, Predicted]:
        """Return the objective of percents (n, added), and what they come to."""
        state = batch_assess(
            self.plan, self.draft.rows(self.plan, percents), steps=self.steps,
            process=self.process, corrections=self.corrections,
        )  # fmt: skip
        found = predicted_of(state, cost_of(self.prices, percents))
        agents = percents[:, : len(self.high)]
        powders = dose_burden(agents, self.high).sum(axis=1) + folds(agents, self.high)
        value = self.objective(found) + powders + doubts(state, self.keys)
        return np.asarray(value, dtype=np.float64), found


def doubts(state: BatchState, keys: Sequence[str]) -> Array:
    """Return what it costs that a single agent only just sets, (n,): a scale is not that fine."""
    agent = state.agents.get(keys[0]) if len(keys) == 1 else None
    gel = state.texture.gel
    if agent is None or gel is None or agent.critical_pct is None:
        return np.zeros(len(state.masses))
    least = np.maximum(agent.critical_pct.high, _LEAST_PCT)
    short = np.clip((_SURELY - agent.effective_pct.value / least) / (_SURELY - 1.0), 0.0, 1.0)
    stands = (gel.modulus.value > 0) & np.isfinite(least)
    return np.where(stands, _PER_DOUBT * short, 0.0)


def folds(percents: Array, high: Array) -> Array:
    """Return what the doses cost by how many times they are multiplied, (n,)."""
    parts = np.maximum(percents / high, _TRACE)
    return np.asarray(_PER_FOLD * np.log(parts).sum(axis=1), dtype=np.float64)


def _bounds(draft: ProposalDraft, start: Array) -> tuple[Array, Array]:
    """Return the least and the highest percent of each line; the start is always inside."""
    low, high = start / _HELPER, start * _HELPER
    for place, name in enumerate(draft.helpers, start=len(draft.agents)):
        high[place] = min(high[place], HELPER_MOST_PCT[name])
    for place, agent in enumerate(draft.agents):
        least, most = usual_span(agent.key)
        # In a set no agent fades to a trace that nobody would weigh.
        low[place] = _BELOW * least if len(draft.agents) == 1 else counts_from(least, most)
        high[place] = min(_ABOVE * most, _MOST_PCT)
    return np.minimum(low, start), np.maximum(high, start * 1.01)


def rounded(percents: Array) -> Array:
    """Return the ways to round doses up or down to what is weighed, (ways, lines).

    A step is a power of ten and at most 2 % of the dose: 0.432 % stands for 4.32 g in a kilogram.
    """
    ways = []
    for percent in percents:
        if percent <= 0:
            ways.append([0.0])
            continue
        digits = -int(np.floor(np.log10(_FINE * percent)))
        step = 10.0**-digits
        down = np.floor(percent / step)
        ways.append([round(count * step, max(digits, 0)) for count in (down, down + 1)])
    return np.array(list(product(*ways)))
