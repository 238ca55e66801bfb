"""Fine particles afloat: by listed doses alone, one agent at a time and beside others."""

from functools import cache
from itertools import product

import numpy as np
import pytest

from setwell.domain.brief import Brief, brief_make
from setwell.engine.blend_formula import agent_named
from setwell.engine.catalog import catalog_build
from setwell.engine.pipeline import batch_assess
from setwell.engine.process import steps_read
from setwell.engine.proposals.afloat import AFLOAT, beside, listed_for, rating, set_fast
from setwell.engine.proposals.base import base_read
from setwell.engine.proposals.by_law import joined
from setwell.engine.proposals.draft import ProposalDraft
from setwell.engine.proposals.finished import finished
from setwell.engine.proposals.predicted import Predicted, predicted_of
from setwell.engine.proposals.propose import propose
from setwell.engine.proposals.results import Proposal, Proposals
from setwell.engine.proposals.tables import agent_table, helper_levels
from setwell.engine.proposals.wishes import wishes_of
from setwell.engine.verdict import Verdict

CATALOG = catalog_build()
MILK, WATER = "920 g whole milk\n80 g sugar\n15 g cocoa powder", "980 g water\n20 g lemon juice"
DRINK = {"texture": {"sets": False}, "plating": "pours"}


def rated(key: str, *percents: float, is_milk: bool = True, serving_c: float = 5.0,
          is_gelling: bool = True) -> list[float]:  # fmt: skip
    doses = np.array(percents)
    found = rating(
        key, doses, is_milk=np.full(doses.shape, is_milk),
        serving_c=np.full(doses.shape, serving_c), is_gelling=is_gelling,
    )  # fmt: skip
    return [float(one) for one in found]


def brief_of(base: str = MILK, **fields: object) -> Brief:
    return brief_make(**{"title": "Cup", "base": base, "serving_c": 5, "keeps_afloat": True,
                         "agents_most": 1, **DRINK, **fields})  # fmt: skip


def proposed(base: str = MILK, **fields: object) -> Proposals:
    brief = brief_of(base, **fields)
    return propose(brief, catalog=CATALOG, is_first=brief.agents_most == 1)


def computed(brief: Brief, doses: dict[str, float]) -> Predicted:
    """Return what the whole engine predicts of agents at some doses."""
    base = base_read(brief, catalog=CATALOG)
    agents = tuple(agent_named(CATALOG.materials[f"agent:{key}"], CATALOG) for key in doses)
    draft = ProposalDraft(base, brief, agents, ())
    plan = draft.plan()
    rows = draft.rows(plan, np.array([list(doses.values())]))
    return predicted_of(batch_assess(plan, rows, steps=steps_read(plan.formula.steps)))


def wish_of(proposal: Proposal):
    return next(one for one in proposal.wishes if one.key == "afloat")


def of(found: Proposals, key: str) -> Proposal:
    return next(one for one in found.proposals if [a.key for a in one.agents] == [key])


def test_the_listed_figure_counts_most_and_the_ends_of_its_span_still_count():
    row = listed_for("kappa_carrageenan", is_milk=True)
    assert (row.low, row.value, row.high) == (0.01, 0.02, 0.03)
    figure, low, high = rated("kappa_carrageenan", 0.02, 0.01, 0.03)
    assert figure == 1.0
    assert AFLOAT <= low < figure
    assert AFLOAT <= high < figure


def test_below_the_span_is_too_little_and_above_it_nothing_tells():
    assert rated("kappa_carrageenan", 0.0, 0.009, 0.04, 0.5) == [-1.0, -1.0, 0.0, 0.0]


def test_a_single_listed_figure_is_met_as_well_as_it_is_weighed():
    assert [one >= AFLOAT for one in rated("xanthan", 0.0505, 0.0495, 0.052, 0.048)] == [
        True, True, False, False,
    ]  # fmt: skip


def test_what_is_listed_for_milk_counts_only_beside_milk_protein():
    assert listed_for("kappa_carrageenan", is_milk=False) is None
    assert rated("kappa_carrageenan", 0.02, is_milk=False) == [0.0]
    assert rated("xanthan", 0.05, is_milk=False) == rated("xanthan", 0.05) == [1.0]


def test_an_agent_without_a_listed_dose_cannot_be_told():
    assert rated("guar", 0.01, 0.3) == [0.0, 0.0]


def test_a_network_that_warmth_may_melt_cannot_be_told_when_served_warm():
    assert rated("kappa_carrageenan", 0.02, serving_c=60.0) == [0.0]
    assert rated("xanthan", 0.05, serving_c=60.0, is_gelling=False) == [1.0]


def test_one_listed_dose_is_enough_beside_what_only_thickens():
    listed, open_, little = (np.array([one]) for one in (1.0, 0.0, -1.0))
    thick, gels = np.ones(1), np.zeros(1)
    assert beside([listed, open_], [gels, thick]) == 1.0
    assert beside([open_, listed], [gels, thick]) == 0.0
    assert beside([listed, listed], [gels, gels]) == 0.0
    assert beside([little, open_, listed], [thick, thick, gels]) == 1.0
    assert beside([little, little], [thick, thick]) == -1.0


def test_in_what_has_set_nothing_sinks():
    ratings, stiff = np.array([0.0, -1.0, 1.0, -1.0]), np.array([1.0, 1.0, 0.0, 0.0])
    assert set_fast(ratings, np.array([1, 0, -1, 1]), stiff).tolist() == [1.0, 0.0, 1.0, -1.0]


@cache
def tables():
    brief = brief_of(agents_most=3)
    base, levels = base_read(brief, catalog=CATALOG), helper_levels(())
    keys = ("kappa_carrageenan", "iota_carrageenan", "xanthan", "guar", "locust_bean_gum")
    agents = [agent_named(CATALOG.materials[f"agent:{key}"], CATALOG) for key in keys]
    return {one.key: agent_table(base, brief, one, levels) for one in agents}


@pytest.mark.parametrize(("first", "second"), [
    ("kappa_carrageenan", "guar"), ("kappa_carrageenan", "iota_carrageenan"),
    ("xanthan", "guar"), ("xanthan", "locust_bean_gum"), ("iota_carrageenan", "xanthan"),
])  # fmt: skip
def test_tables_and_the_whole_engine_rate_a_pair_alike(first, second):
    pair = [tables()[first], tables()[second]]
    places = np.array([0, 3, 8])
    found, _ = joined(pair, places, 1)
    compared = 0
    for a, b in product(range(3), range(3)):
        doses = {one.agent.key: float(one.doses_pct[places[n]])
                 for one, n in zip(pair, (a, b), strict=True)}  # fmt: skip
        whole = computed(brief_of(agents_most=3), doses)
        # Salts of one powder may make another set, which tables leave to the engine.
        if found.sets[0, a, b] != whole.sets[0]:
            continue
        compared += 1
        assert float(found.afloat[0, a, b]) == pytest.approx(float(whole.afloat[0])), doses
    assert compared >= 3


@pytest.mark.parametrize("key", ["kappa_carrageenan", "iota_carrageenan", "xanthan"])
def test_listed_doses_are_among_those_that_pairs_and_triples_try(key):
    row = listed_for(key, is_milk=True)
    # Where sets begin to count.
    assert tables()[key].doses_pct[3] == pytest.approx(row.value)
    assert np.all(np.diff(tables()[key].doses_pct) > 0)


def test_without_the_wish_the_doses_stay_as_they_were():
    brief = brief_of().model_copy(update={"keeps_afloat": False})
    base = base_read(brief, catalog=CATALOG)
    agent = agent_named(CATALOG.materials["agent:xanthan"], CATALOG)
    doses = agent_table(base, brief, agent, helper_levels(())).doses_pct
    assert not np.isclose(doses, 0.05, rtol=1e-6).any()


def test_cocoa_milk_is_answered_from_the_list_and_says_so():
    kappa = of(proposed(), "kappa_carrageenan")
    wish = wish_of(kappa)
    assert kappa.agents[0].dose_pct == pytest.approx(0.02, rel=0.1)
    assert wish.holds is Verdict.YES
    for said in ("listed practice, not computed", "0.01 to 0.03 %", "compiled",
                 "Carrageenan / milk protein interaction", "stand for a day"):  # fmt: skip
        assert said in wish.found
    # How thick it is nothing computes, so that nobody can say in how many kitchens it is right.
    assert kappa.chance is None


def test_a_gum_that_only_makes_thickness_computable_does_not_hide_kappa_alone():
    sets = [tuple(a.key for a in one.agents) for one in proposed(agents_most=3).proposals]
    assert ("kappa_carrageenan",) in sets[:5]
    assert len(sets) == len(set(sets))


def test_a_recalled_dose_is_told_as_unverified():
    wish = wish_of(of(proposed(WATER), "xanthan"))
    assert wish.holds is Verdict.YES
    assert "unverified: recalled, no source seen" in wish.found


def test_kappa_is_no_answer_where_there_is_no_milk():
    found = proposed(WATER)
    met = [one for one in found.proposals if wish_of(one).holds is Verdict.YES]
    assert met
    assert all(one.agents[0].key != "kappa_carrageenan" for one in met)


@pytest.mark.parametrize(("key", "percent", "holds", "said"), [
    ("kappa_carrageenan", 0.005, Verdict.NO, "0.005 % kappa carrageenan is less than the 0.01"),
    ("kappa_carrageenan", 0.05, Verdict.CANNOT_TELL, "is more than the 0.01 to 0.03 % listed"),
    ("xanthan", 0.3, Verdict.CANNOT_TELL, "0.3 % xanthan gum is more than the 0.05 % listed"),
    ("guar", 0.3, Verdict.CANNOT_TELL, "no dose of guar gum is listed for this"),
])  # fmt: skip
def test_a_dose_outside_the_list_is_told_with_the_list(key, percent, holds, said):
    brief = brief_of()
    base = base_read(brief, catalog=CATALOG)
    agent = agent_named(CATALOG.materials[f"agent:{key}"], CATALOG)
    draft = ProposalDraft(base, brief, (agent,), ())
    found = finished(draft, (percent,), computed(brief, {key: percent}), wishes_of(brief, base))
    assert wish_of(found).holds is holds
    assert said in wish_of(found).found
    assert "listed practice, not computed" not in wish_of(found).found


def test_a_gel_holds_what_is_in_it_once_it_has_set():
    found = proposed(texture={"word": "soft"}, plating="unmolds")
    best = found.proposals[0]
    assert wish_of(best).holds is Verdict.YES
    assert "it sets, so nothing sinks once set" in wish_of(best).found


def test_a_shelf_without_a_listed_dose_says_so_and_how_to_live_with_it():
    found = proposed(shelf=["guar"], agents_most=2)
    assert found.conflicts[0].text.startswith("Nothing judged keeps fine particles afloat.")
    assert (("keeps_afloat", ""),) in [one.changes for one in found.relaxations]
    assert wish_of(found.proposals[0]).holds is Verdict.CANNOT_TELL
    assert "no dose of guar" in wish_of(found.proposals[0]).found


def test_who_falls_out_is_told_that_no_list_tells():
    why = {one.agents[0]: one.why for one in proposed().fell_out}
    assert "no list tells that it keeps particles afloat" in why["konjac"]


def test_where_listed_doses_come_from_is_told_only_where_they_are_asked_for():
    asked = {one.source for one in proposed().evidence}
    assert {"fmc_milk_protein", "trade_recalled"} <= asked
