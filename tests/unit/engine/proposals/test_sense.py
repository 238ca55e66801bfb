"""Proposals a cook would not laugh at: nothing idle, no contradiction, cautions where due."""

import numpy as np
import pytest

from setwell.domain.brief import brief_make
from setwell.engine.assess import bench_build
from setwell.engine.assessment import Severity
from setwell.engine.catalog import catalog_build
from setwell.engine.pipeline import batch_assess
from setwell.engine.process import steps_read
from setwell.engine.proposals.base import base_read
from setwell.engine.proposals.draft import ProposalDraft
from setwell.engine.proposals.predicted import predicted_of
from setwell.engine.proposals.propose import asked, propose
from setwell.engine.proposals.results import Proposals
from setwell.engine.proposals.shelf import shelf_of
from setwell.engine.proposals.shortlist import FARTHEST_BEHIND, families_of
from setwell.engine.proposals.wish_windows import distances
from setwell.engine.rules.book import findings
from setwell.errors import InputError

CATALOG = catalog_build()


def proposed(base: str, **fields: object) -> Proposals:
    return propose(brief_make(title="Cup", base=base, **fields), catalog=CATALOG)


def stops(base: str, **fields: object) -> set[str]:
    """Return the codes of the findings that stop any proposal."""
    brief = brief_make(title="Cup", base=base, **fields)
    catalog = base_read(brief, catalog=CATALOG).catalog
    return {
        one.code
        for proposal in propose(brief, catalog=CATALOG).proposals
        for one in findings(bench_build(proposal.formula, catalog=catalog))
        if one.severity is Severity.STOP
    }


@pytest.fixture(scope="module")
def aspic() -> Proposals:
    return proposed(
        "985 g chicken stock\n15 g salt", texture={"sets": True}, plating="unmolds", mouth="melts"
    )


def test_gelatin_that_does_it_alone_gets_no_powders_that_do_nothing(aspic):
    assert [agent.key for agent in aspic.proposals[0].agents] == ["gelatin"]
    with_gelatin = [one for one in aspic.proposals if "gelatin" in {a.key for a in one.agents}]
    assert len(with_gelatin) == 1


def test_nothing_far_behind_the_best_is_shown(aspic):
    best = aspic.proposals[0].fit
    # The order counts powders and agents too, which is less than one.
    assert all(one.fit <= best + FARTHEST_BEHIND + 1.0 for one in aspic.proposals)


@pytest.mark.parametrize(
    "fields",
    [
        {"base": "300 g lemon juice\n500 g water\n200 g sugar",
         "texture": {"sets": True, "modulus_low": 2.0, "modulus_high": 10.0}},
        {"base": "900 g water\n100 g sugar", "texture": {"word": "brittle"}, "clarity": "clear"},
    ],
)  # fmt: skip
def test_without_any_of_its_agents_a_set_is_farther_off(fields):
    brief = brief_make(title="Cup", **fields)
    question = asked(brief, catalog=CATALOG)
    agents = {agent.key: agent for agent in shelf_of(brief, question.base).agents}
    for proposal in propose(brief, catalog=CATALOG).proposals:
        if len(proposal.agents) == 1:
            continue
        draft = ProposalDraft(
            question.base, brief, tuple(agents[one.key] for one in proposal.agents),
            tuple(one.name for one in proposal.helpers),
        )  # fmt: skip
        whole = [one.dose_pct for one in proposal.agents] + [h.pct for h in proposal.helpers]
        rows = [whole, *([0.0 if n == out else pct for n, pct in enumerate(whole)]
                         for out in range(len(proposal.agents)))]  # fmt: skip
        plan = draft.plan()
        state = batch_assess(
            plan, draft.rows(plan, np.array(rows)), steps=steps_read(plan.formula.steps)
        )
        off = distances(question.wishes, predicted_of(state)).sum(axis=0)
        assert (off[1:] > off[0]).all(), proposal.name


def test_a_ready_blend_and_its_parts_are_one_answer():
    found = proposed("900 g water\n100 g sugar", texture={"word": "elastic"}, plating="unmolds")
    families = [families_of(agent.key for agent in one.agents) for one in found.proposals]
    assert len(set(families)) == len(families)
    assert families_of(["kappa_LBG"]) == families_of(["kappa_carrageenan", "locust_bean_gum"])


def test_two_thickeners_that_gel_together_go_into_molds():
    fields = {
        "texture": {"sets": True}, "plating": "unmolds",
        "shelf": ("locust bean gum", "xanthan gum"),
    }  # fmt: skip
    (one,) = proposed("900 g whole milk\n100 g sugar", **fields).proposals
    assert "Pour into molds" in one.formula.steps
    assert "cannot_gel" not in stops("900 g whole milk\n100 g sugar", **fields)


def test_thickeners_that_do_not_gel_together_still_get_a_warning():
    brief = brief_make(title="Cup", base="1000 g water", texture={"sets": True})
    base = base_read(brief, catalog=CATALOG)
    guar = next(one for one in shelf_of(brief, base).agents if one.key == "guar")
    formula = ProposalDraft(base, brief, (guar,)).formula([0.5])
    formula = formula.revised(steps=f"{formula.steps}\nUnmold")
    assert "cannot_gel" in {one.code for one in findings(bench_build(formula, catalog=CATALOG))}


def test_a_sauce_is_neither_molded_nor_chilled_before_it_is_served_hot():
    found = proposed("950 g whole milk\n50 g sugar", texture={"word": "coating"}, serving_c=60)
    assert found.proposals
    for one in found.proposals:
        assert "molds" not in one.formula.steps
        is_ether = any(agent.key.startswith(("hpmc", "methyl")) for agent in one.agents)
        assert is_ether or "Chill" not in one.formula.steps
    (konjac,) = proposed(
        "950 g whole milk\n50 g sugar", texture={"word": "coating"}, serving_c=60,
        shelf=("konjac gum",),
    ).proposals  # fmt: skip
    assert "heat to 60 °C (140 °F)" in konjac.process


def test_no_dose_is_far_above_what_any_kitchen_use_takes():
    # A warm buffet asks kappa for more than 2 % without potassium: the salt comes first.
    found = proposed(
        "880 g water\n120 g sugar", texture={"word": "brittle", "modulus_low": 10.0},
        mouth="holds", holds_c=38, plating="unmolds", serving_c=25, shelf=("kappa carrageenan",),
    )  # fmt: skip
    (kappa,) = found.proposals
    assert kappa.agents[0].dose_pct <= 1.5 * 1.5
    assert kappa.helpers[0].name == "potassium chloride"
    assert kappa.helpers[0].pct < 0.26


def test_a_salt_that_is_not_needed_is_left_out():
    # 0.17 % of kappa alone does it; the doses tried in steps jump over that.
    brief = brief_make(
        title="Milk cup", base="920 g whole milk\n80 g sugar", serving_c=6, plating="unmolds",
        texture={"sets": True, "word": "brittle", "modulus_low": 1.0, "modulus_high": 10.0},
        agents_most=1, shelf=("kappa carrageenan",),
    )  # fmt: skip
    (found,) = propose(brief, catalog=CATALOG).proposals
    assert not found.helpers


def test_much_salt_asks_for_a_boil():
    assert "too_cool" not in stops(
        "500 g soy sauce\n500 g water", texture={"sets": True}, plating="unmolds"
    )


def test_gelatin_never_blooms_in_egg_that_stays_raw():
    (one,) = proposed(
        "300 g whole egg\n600 g whole milk\n100 g sugar", texture={"sets": True},
        shelf=("gelatin",),
    ).proposals  # fmt: skip
    assert "Heat to 82 °C" in one.formula.steps
    assert "base set aside before the egg goes in" in one.formula.steps


def test_egg_that_may_not_be_cooked_is_told_with_what_is_traded():
    found = proposed(
        "300 g whole egg\n600 g whole milk\n100 g sugar", texture={"sets": True},
        limits={"max_temperature_c": 60}, shelf=("gelatin",),
    )  # fmt: skip
    assert "Egg not proven cooked" in found.proposals[0].traded
    assert any("Salmonella" in one for one in found.proposals[0].cautions)


def test_a_bite_is_told_that_gelling_agents_are_banned_from_mini_cups():
    fields = {"texture": {"sets": True}, "plating": "unmolds", "shelf": ("agar",)}
    bite = proposed("900 g water\n100 g sugar", portion_g=15, **fields).proposals[0]
    cup = proposed("900 g water\n100 g sugar", portion_g=100, **fields).proposals[0]
    assert any("mini-cups" in one for one in bite.cautions)
    assert not any("mini-cups" in one for one in cup.cautions)


@pytest.mark.parametrize(
    "agent", ["xanthan and locust bean gum blend", "low-methoxyl pectin", "hpmc K"]
)
def test_whatever_thickens_a_drink_says_nothing_of_safe_swallowing(agent):
    found = proposed("1000 g water", texture={"thickness_high": 400}, shelf=(agent,))
    assert any("safe swallowing" in one for one in found.proposals[0].cautions)


def test_strong_spirits_are_kept_from_flames_where_they_are_heated():
    fields = {"texture": {"sets": True}, "shelf": ("agar",)}
    strong = proposed("450 g vodka\n550 g water", **fields).proposals[0]
    weak = proposed("50 g vodka\n950 g water", **fields).proposals[0]
    assert any("catches fire" in one for one in strong.cautions)
    assert not any("catches fire" in one for one in weak.cautions)


def test_raw_enzyme_fruit_is_named_where_gelatin_falls_out():
    found = proposed(
        "700 g raw pineapple\n300 g water", texture={"sets": True}, shelf=("agar", "gelatin")
    )
    why = {one.agents: one.why for one in found.fell_out}
    assert why[("gelatin",)] == "does not set here: raw enzyme fruit"


def test_a_trace_that_sets_early_does_not_make_gelatin_stand_early():
    fields = {
        "texture": {"sets": True}, "plating": "unmolds", "mouth": "melts",
        "shelf": ("gelatin", "high acyl gellan"), "helpers": (),
    }  # fmt: skip
    found = proposed(
        "900 g water\n100 g sugar", limits={"set_within_h": 0.5}, **fields
    )  # fmt: skip
    assert found.conflicts
    for one in found.proposals:
        setting = next(wish for wish in one.wishes if wish.key == "setting")
        mouth = next(wish for wish in one.wishes if wish.key == "mouth")
        assert setting.distance > 0.5 or mouth.distance > 0.5
        half, first = one.texture.half_set_c, one.texture.first_set_c
        assert half is not None
        assert half.low <= half.value <= first.high


def test_a_kitchen_below_freezing_gets_an_answer():
    fields = {"texture": {"sets": True}, "serving_c": -5, "limits": {"max_temperature_c": -5}}
    found = proposed("900 g water\n100 g sugar", **fields)
    assert found.proposals


def test_beyond_the_reach_of_the_laws_of_alcohol_no_agent_is_proposed():
    fields = {"texture": {"sets": True, "modulus_low": 1.0}, "plating": "unmolds"}
    found = proposed("600 g vodka\n300 g water\n100 g sugar", **fields)
    assert {a.key for one in found.proposals for a in one.agents} <= {
        "gelatin", "gelatin_fish_cold",
    }  # fmt: skip
    agar = next(one for one in found.fell_out if one.agents == ("agar",))
    assert agar.why.startswith("no law here tells what it does in 26 % alcohol")
    with pytest.raises(InputError, match="No agent is left") as refused:
        proposed("1000 g vodka", shelf=("agar",), **fields)
    assert "strength of the base" in refused.value.hint


def test_where_alcohol_may_weaken_a_gel_each_proposal_says_so():
    fields = {"texture": {"sets": True, "modulus_low": 1.0}, "shelf": ("agar", "gelatin")}
    (told,) = (
        one.traded for one in proposed("350 g vodka\n650 g water", **fields).proposals
        if one.agents[0].key == "agar"
    )  # fmt: skip
    assert any("15 % alcohol" in line or "14 % alcohol" in line for line in told), told
    weak = proposed("100 g vodka\n900 g water", **fields).proposals
    assert not any("alcohol" in line for one in weak for line in one.traded)


def test_gums_that_milk_protein_may_part_from_say_so_and_come_after_those_that_hold():
    fields = {"texture": {"thickness_low": 300, "thickness_high": 900}, "agents_most": 1,
              "shelf": ("guar gum", "xanthan gum", "corn starch")}  # fmt: skip
    milk = proposed("950 g whole milk\n50 g sugar", **fields).proposals
    assert milk[-1].agents[0].key == "guar"
    told = {one.agents[0].key: " ".join(one.traded) for one in milk}
    assert "may part from the milk protein" in told["guar"]
    assert "part from" not in told["xanthan"]
    water = proposed("950 g water\n50 g sugar", **fields).proposals
    assert not any("part from" in line for one in water for line in one.traded)
