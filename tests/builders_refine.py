"""Plain functions that make drafts of proposals for tests."""

from setwell.domain.brief import Brief, brief_make
from setwell.domain.pantry import Pantry
from setwell.engine.blend_formula import agent_named
from setwell.engine.catalog import Catalog, catalog_build
from setwell.engine.pipeline import BatchState, batch_assess
from setwell.engine.process import steps_read
from setwell.engine.proposals.base import base_read
from setwell.engine.proposals.draft import Array, ProposalDraft


def draft_of(
    *names: str,
    base: str = "900 g water\n100 g sugar",
    helpers: tuple[str, ...] = (),
    catalog: Catalog | None = None,
    **fields: object,
) -> ProposalDraft:
    catalog = catalog or catalog_build(Pantry())
    brief: Brief = brief_make(title="Pear jelly", base=base, **fields)
    agents = []
    for name in names:
        found = catalog.find(name)
        assert found is not None, name
        agents.append(agent_named(found.material, catalog))
    return ProposalDraft(base_read(brief, catalog=catalog), brief, tuple(agents), helpers)


def batches_of(draft: ProposalDraft, percents: Array) -> BatchState:
    plan = draft.plan()
    return batch_assess(plan, draft.rows(plan, percents), steps=steps_read(plan.formula.steps))
