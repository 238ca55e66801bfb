"""A set of agents at its doses as a proposal: formula, texture, wishes, chance, words."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from setwell.engine.assess import bench_build
from setwell.engine.cost import cost
from setwell.engine.gelling.doubt import Corrections
from setwell.engine.proposals.admission import comes_in_bites
from setwell.engine.proposals.afloat_words import afloat_told
from setwell.engine.proposals.answers import answers
from setwell.engine.proposals.chance import chance_of
from setwell.engine.proposals.draft import ProposalDraft
from setwell.engine.proposals.labels import label_of
from setwell.engine.proposals.predicted import Predicted
from setwell.engine.proposals.process_words import process_of_proposal
from setwell.engine.proposals.results import AgentDose, HelperDose, Proposal
from setwell.engine.proposals.wish_windows import Wish
from setwell.engine.proposals.words import allergens_of, cautions_of, traded
from setwell.engine.rules.bench import Bench
from setwell.engine.texture_words import texture_words
from setwell.engine.verdict import Verdict
from setwell.provenance import Estimate


def finished(
    draft: ProposalDraft,
    percents: Sequence[float],
    middle: Predicted,
    wishes: tuple[Wish, ...],
    corrections: Mapping[str, Corrections] | None = None,
) -> Proposal:
    """Return a draft at its percents (added,) as a proposal computed by the whole engine.

    `middle` is the same batch as one row of Predicted.
    """
    formula = draft.formula(percents)
    bench = bench_build(
        formula, catalog=draft.base.catalog, parts=draft.base.parts, corrections=corrections
    )
    texture = texture_words(bench)
    found = answers(
        wishes, texture, middle=middle,
        afloat=afloat_told(bench, texture, float(middle.afloat.flat[0])),
    )  # fmt: skip
    agents, helpers = _doses(draft, percents)
    return Proposal(
        code="",
        agents=agents,
        helpers=helpers,
        formula=formula,
        texture=texture,
        wishes=found,
        fit=float(sum(w.weight * one.distance for w, one in zip(wishes, found, strict=True))),
        chance=chance_of(bench, wishes, corrections=corrections),
        cost_per_portion=_portion_cost(draft, bench),
        ingredients=draft.added,
        process=process_of_proposal(bench),
        label=label_of(
            agents,
            [one.name for one in helpers],
            draft.brief.market,
            sets=texture.sets is not Verdict.NO,
        ),
        allergens=allergens_of(bench),
        traded=traded(bench, texture, found),
        cautions=cautions_of(bench, is_bite=comes_in_bites(draft.brief, draft.base)),
    )


def _doses(
    draft: ProposalDraft, percents: Sequence[float]
) -> tuple[tuple[AgentDose, ...], tuple[HelperDose, ...]]:
    count = len(draft.agents)
    agents = tuple(
        AgentDose(agent.key, agent.name, agent.line_name, float(pct))
        for agent, pct in zip(draft.agents, percents[:count], strict=True)
    )
    helpers = tuple(
        HelperDose(name, float(pct))
        for name, pct in zip(draft.helpers, percents[count:], strict=True)
    )
    return agents, helpers


def _portion_cost(draft: ProposalDraft, bench: Bench) -> Estimate | None:
    """Return what a portion of the brief's weight costs, a lower bound while prices lack."""
    grams = float(bench.state.composition.finished_g[0])
    result = cost(
        bench.plan, bench.state.masses[0], kitchen=draft.base.catalog.kitchen,
        usable_g=grams, portions=None,
    )  # fmt: skip
    each = result.per_100g
    if each is None:
        return None
    share = draft.brief.portion_g / 100.0
    ends = (None if end is None else end * share for end in (each.low, each.high))
    low, high = ends
    return replace(each, value=each.value * share, low=low, high=high)
