"""A set of agents at its doses as a proposal: formula, texture, wishes, words."""

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from setwell.engine.assess import bench_build
from setwell.engine.cost import cost
from setwell.engine.gelling.doubt import Corrections
from setwell.engine.proposals.answers import answers
from setwell.engine.proposals.draft import ProposalDraft
from setwell.engine.proposals.predicted import predicted_of
from setwell.engine.proposals.prices import cost_of, prices_of
from setwell.engine.proposals.results import AgentDose, HelperDose, Proposal
from setwell.engine.proposals.wish_windows import Wish
from setwell.engine.rules.bench import Bench
from setwell.engine.texture_words import texture_words
from setwell.provenance import Estimate

Array = NDArray[np.float64]


def finished(
    draft: ProposalDraft,
    percents: Array,
    wishes: tuple[Wish, ...],
    corrections: Mapping[str, Corrections] | None = None,
) -> Proposal:
    """Return a draft at its percents (added,) as a proposal computed by the whole engine."""
    formula = draft.formula(percents.tolist())
    bench = bench_build(
        formula, catalog=draft.base.catalog, parts=draft.base.parts, corrections=corrections
    )
    texture = texture_words(bench)
    price = cost_of(prices_of(draft), percents[None, :])
    found = answers(wishes, texture, middle=predicted_of(bench.state, price))
    count = len(draft.agents)
    return Proposal(
        code="",
        agents=tuple(
            AgentDose(agent.key, agent.name, agent.line_name, float(pct))
            for agent, pct in zip(draft.agents, percents, strict=False)
        ),
        helpers=tuple(
            HelperDose(name, float(pct))
            for name, pct in zip(draft.helpers, percents[count:], strict=True)
        ),
        formula=formula,
        texture=texture,
        wishes=found,
        fit=float(sum(w.weight * one.distance for w, one in zip(wishes, found, strict=True))),
        chance=None,
        cost_per_portion=_portion_cost(draft, bench),
        ingredients=draft.added,
        process=(),
        label=(),
        allergens=(),
        traded=(),
        cautions=(),
    )


def _portion_cost(draft: ProposalDraft, bench: Bench) -> Estimate | None:
    """Return what a portion of the brief's weight costs, a lower bound while prices lack."""
    grams = float(bench.state.composition.finished_g[0])
    portions = max(round(grams / draft.brief.portion_g), 1)
    result = cost(
        bench.plan, bench.state.masses[0], kitchen=draft.base.catalog.kitchen,
        usable_g=grams, portions=portions,
    )  # fmt: skip
    return result.per_portion
