"""A first trial set around a proposal: seven to eleven cups that tell what to change."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from setwell.domain.brief import Brief
from setwell.domain.steps import StepKind
from setwell.engine.blend_formula import BlendAgent
from setwell.engine.cautions import cautions
from setwell.engine.diets import allergens
from setwell.engine.gelling.doubt import Corrections
from setwell.engine.pipeline import agent_columns, batch_assess
from setwell.engine.process import steps_read
from setwell.engine.proposals.base import BriefBase
from setwell.engine.proposals.draft import ProposalDraft
from setwell.engine.proposals.predicted import predicted_of
from setwell.engine.proposals.results import AgentDose, HelperDose, Proposal
from setwell.engine.proposals.trial_design import (
    DESIGN_EVIDENCE,
    REPEATS,
    Point,
    dose_points,
    fixed_points,
    step_that_is_felt,
)
from setwell.engine.proposals.trial_order import blind_codes, run_order
from setwell.engine.proposals.trial_results import CupAmount, StockMix, TrialCup, TrialSet
from setwell.engine.proposals.trial_weights import Weighed, weighed
from setwell.engine.proposals.trial_words import against, change, measures, question, remarks
from setwell.engine.rules.bench import Bench
from setwell.engine.texture_words import texture_words
from setwell.errors import InputError, OutOfRangeError

__all__ = ["CupAmount", "StockMix", "TrialCup", "TrialSet", "trial_set", "trials_around"]

Array = NDArray[np.float64]

CUP_G, SCALE_G = 100.0, 0.01
_CUP_LEAST_G, _CUP_MOST_G = 20.0, 2000.0
_SCALE_LEAST_G, _SCALE_MOST_G = 0.0001, 1.0
_HEATING = frozenset({StepKind.HEAT, StepKind.BOIL})


@dataclass(frozen=True, slots=True, eq=False)
class _Computed:
    """Every point of the plan computed in one pass, the center first."""

    draft: ProposalDraft
    bench: Bench
    rows: Array
    points: tuple[Point, ...]
    step: float

    @property
    def chosen(self) -> tuple[int, ...]:
        """The rows of the cups: the center again and again, dose steps, and all fixed points."""
        wanted = self.dose_factors
        others = tuple(
            n
            for n, point in enumerate(self.points)
            if point.kind in {"ratio", "helper"}
            or (point.kind == "dose" and any(abs(point.factor / f - 1.0) < 1e-6 for f in wanted))
        )
        return (*(0 for _ in range(REPEATS)), *others)

    @property
    def dose_factors(self) -> tuple[float, ...]:
        """The steps of the dose; one agent alone is also taken two steps either way."""
        near = (1.0 / self.step, self.step)
        return near if self.draft.added > 1 else (*near, 1.0 / self.step**2, self.step**2)


def trial_set(
    proposal: Proposal,
    brief: Brief,
    base: BriefBase,
    *,
    seed: int = 1,
    cup_g: float = CUP_G,
    scale_g: float = SCALE_G,
    corrections: Mapping[str, Corrections] | None = None,
) -> TrialSet:
    """Return a first trial set around a proposal. Raises OutOfRangeError as `trials_around`."""
    return trials_around(
        base,
        brief,
        tuple(BlendAgent(one.key, one.name, one.line_name, "") for one in proposal.agents),
        tuple(one.dose_pct for one in proposal.agents),
        tuple((one.name, one.pct) for one in proposal.helpers),
        seed=seed,
        cup_g=cup_g,
        scale_g=scale_g,
        corrections=corrections,
    )


def trials_around(  # noqa: PLR0913 - a set depends on that many things
    base: BriefBase,
    brief: Brief,
    agents: tuple[BlendAgent, ...],
    percents: Sequence[float],
    helpers: Sequence[tuple[str, float]] = (),
    *,
    seed: int = 1,
    cup_g: float = CUP_G,
    scale_g: float = SCALE_G,
    corrections: Mapping[str, Corrections] | None = None,
) -> TrialSet:
    """Return a first trial set around agents at percents, and helpers with theirs.

    `seed` draws order and codes; `scale_g` is what the finest scale shows. Raises InputError
    without agents and OutOfRangeError at `cup` or `scale`.
    """
    _checked(agents, percents, cup_g, scale_g)
    kept = tuple((name, pct) for name, pct in helpers if pct > 0)
    # The base of all cups is one batch, so that no dry sugar is left to carry a powder in.
    mixed = replace(base, carrier="")
    draft = ProposalDraft(mixed, brief, agents, tuple(name for name, _ in kept))
    center = (*(float(pct) for pct in percents), *(float(pct) for _, pct in kept))
    done = _computed(draft, center, corrections)
    rows = done.rows[list(done.chosen)]
    weights = weighed(draft, done.bench.plan, rows, cup_g=cup_g, scale_g=scale_g)
    return _laid_out(done, weights, seed=seed, cup_g=cup_g, scale_g=scale_g)


def _checked(
    agents: tuple[BlendAgent, ...], percents: Sequence[float], cup_g: float, scale_g: float
) -> None:
    if not agents or len(agents) != len(percents) or not all(pct > 0 for pct in percents):
        raise InputError("A trial set needs agents with a dose above 0.", field="agents")
    if not _CUP_LEAST_G <= cup_g <= _CUP_MOST_G:
        raise OutOfRangeError(
            f"A cup of {cup_g:g} g is not laid out here.",
            field="cup",
            hint=f"Take one of {_CUP_LEAST_G:g} to {_CUP_MOST_G:g} g.",
        )
    if not _SCALE_LEAST_G <= scale_g <= _SCALE_MOST_G:
        raise OutOfRangeError(
            f"A scale that shows {scale_g:g} g is of no use here.",
            field="scale",
            hint=f"Take one that shows {_SCALE_LEAST_G:g} to {_SCALE_MOST_G:g} g.",
        )


def _computed(
    draft: ProposalDraft, center: tuple[float, ...], corrections: Mapping[str, Corrections] | None
) -> _Computed:
    """Return all points in one pass, with the dose step that is clearly felt."""
    count, is_alone = len(draft.agents), draft.added == 1
    doses = dose_points(center, count, is_wide=is_alone)
    points = (*fixed_points(center, count, 4 if is_alone else 2), *doses)
    plan, percents = draft.plan(), np.array([point.percents for point in points])
    rows = draft.rows(plan, percents)
    steps = steps_read(plan.formula.steps)
    state = batch_assess(plan, rows, steps=steps, corrections=corrections)
    found = predicted_of(state)
    stands = float(found.modulus[0]) > 0.0
    felt = found.modulus if stands else found.thickness
    first = len(points) - len(doses)
    step = step_that_is_felt(doses, felt[first:], float(felt[0]))
    return _Computed(draft, Bench(plan, steps, state, agent_columns(plan)), rows, points, step)


def _laid_out(
    done: _Computed, weights: Weighed, *, seed: int, cup_g: float, scale_g: float
) -> TrialSet:
    draft, bench = done.draft, done.bench
    order = run_order(REPEATS, len(done.chosen) - REPEATS, seed=seed)
    codes = blind_codes(len(order), seed=seed)
    center = texture_words(bench, 0)
    found = allergens(bench.plan)
    is_heated = any(step.kind in _HEATING for step in bench.steps)
    return TrialSet(
        title=draft.title,
        brief_title=draft.brief.title,
        cups=tuple(
            _cup(done, weights, at, number=n + 1, code=codes[n])
            for n, at in enumerate(order)
        ),
        cup_g=cup_g,
        start_g=cup_g / (1.0 - draft.base.evaporation),
        scale_g=scale_g,
        base=weights.base,
        base_total_g=weights.base_total_g,
        stocks=weights.stocks,
        steps=tuple(step.text for step in bench.steps),
        dose_step=done.step,
        measure=measures(draft.brief, center),
        remarks=remarks(draft, is_heated=is_heated, too_light=weights.too_light),
        cautions=cautions(bench, found),
        allergens=tuple(
            one.allergen if one.certainty == "contains" else f"{one.allergen} (check)"
            for one in found
        ),
        seed=seed,
        evidence=DESIGN_EVIDENCE,
    )  # fmt: skip


def _cup(done: _Computed, weights: Weighed, at: int, *, number: int, code: str) -> TrialCup:
    """Return the cup that is `at` this place of those chosen; the center comes first there."""
    row = done.chosen[at]
    point, draft = done.points[row], done.draft
    texture = texture_words(done.bench, row)
    count = len(draft.agents)
    is_center = point.kind == "center"
    return TrialCup(
        number=number,
        code=code,
        key=f"center {at + 1}" if is_center else point.key,
        change=change(point, draft),
        question=question(point, draft, repeat=at, step=done.step),
        base_g=weights.base_g[at],
        amounts=weights.amounts[at],
        late=weights.late[at],
        agents=tuple(
            AgentDose(one.key, one.name, one.line_name, pct)
            for one, pct in zip(draft.agents, point.percents, strict=False)
        ),
        helpers=tuple(
            HelperDose(name, pct)
            for name, pct in zip(draft.helpers, point.percents[count:], strict=True)
        ),
        texture=texture,
        expected=texture.sentence,
        against="" if is_center else against(texture, texture_words(done.bench, 0)),
    )
