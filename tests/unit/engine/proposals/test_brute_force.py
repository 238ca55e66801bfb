"""The search is held against brute force: the whole engine at every agent, salt and many doses."""

from collections import defaultdict
from pathlib import Path

import numpy as np
import pytest

from setwell.domain.brief import brief_from_json
from setwell.engine.catalog import catalog_build
from setwell.engine.pipeline import batch_assess
from setwell.engine.process import steps_read
from setwell.engine.proposals.draft import ProposalDraft
from setwell.engine.proposals.predicted import predicted_of
from setwell.engine.proposals.propose import asked, propose, search_job
from setwell.engine.proposals.wish_windows import distances

BRIEFS = Path(__file__).parents[3] / "reference" / "cases" / "briefs"
CATALOG = catalog_build()
DOSES = 40


def salts_together(levels):
    """Return the names of the salts that go in together, and all levels of just these."""
    found = defaultdict(list)
    for salts in levels.percents:
        names = tuple(n for n, pct in zip(levels.names, salts, strict=True) if pct > 0)
        found[names].append(salts[salts > 0])
    return {names: np.array(several) for names, several in found.items()}


def all_singles(brief):
    """Return agent, number of salts and least summed distance of every agent with every salt."""
    question = asked(brief, catalog=CATALOG)
    job = search_job(question)
    salts = salts_together(job.levels)
    found = []
    for table in job.tables:
        doses = np.geomspace(table.doses_pct[0], table.doses_pct[-1], DOSES)
        for helpers, levels in salts.items():
            draft = ProposalDraft(question.base, brief, (table.agent,), helpers)
            plan = draft.plan()
            rows = np.column_stack([np.tile(doses, len(levels)), np.repeat(levels, DOSES, axis=0)])
            state = batch_assess(plan, draft.rows(plan, rows), steps=steps_read(plan.formula.steps))
            off = distances(question.wishes, predicted_of(state)).sum(axis=0)
            found.append((table.agent.key, len(helpers), float(off.min())))
    return found


@pytest.mark.parametrize(
    "name", ["milk_jelly", "soft_elastic_gel", "sour_dressing", "raw_melon_gel", "hot_soup_cubes"]
)
def test_no_single_agent_at_any_dose_is_nearer_than_what_is_proposed(name):
    brief = brief_from_json((BRIEFS / f"{name}.json").read_text(encoding="utf-8"))
    brief = brief.model_copy(update={"agents_most": 1})
    every = all_singles(brief)
    proposals = propose(brief, catalog=CATALOG).proposals
    least = min(off for _, _, off in every)
    assert min(one.fit for one in proposals) <= least + 0.01
    # An agent that needs no salt is never proposed with one.
    needs_none = {key for key, salts, off in every if salts == 0 and off == 0.0}
    for one in proposals:
        assert not (one.helpers and one.agents[0].key in needs_none), one.name
