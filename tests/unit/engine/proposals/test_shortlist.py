"""A short list of different answers, and the front that nothing else beats."""

from dataclasses import replace

import pytest

from setwell.domain.brief import brief_make
from setwell.engine.catalog import catalog_build
from setwell.engine.proposals.front import front_of
from setwell.engine.proposals.propose import propose
from setwell.engine.proposals.results import Chance, Proposals
from setwell.engine.proposals.shortlist import family_of_key
from setwell.errors import InputError
from setwell.provenance import Estimate


@pytest.fixture(scope="module")
def answer() -> Proposals:
    brief = brief_make(
        title="Cup", base="900 g water\n100 g sugar", texture={"word": "tender"},
        shelf=("agar", "gelatin", "kappa carrageenan", "iota carrageenan", "locust bean gum",
               "cornstarch", "tapioca starch"),
    )  # fmt: skip
    return propose(brief, catalog=catalog_build())


def test_no_two_proposals_are_variants_of_one(answer):
    families = [frozenset(family_of_key(a.key) for a in one.agents) for one in answer.proposals]
    assert len(families) >= 4
    assert len(set(families)) == len(families)


def test_what_is_on_the_list_is_computed_by_the_whole_engine(answer):
    for one in answer.proposals:
        assert one.texture.sentence
        assert one.formula.ingredients.count("\n") == len(one.agents) + len(one.helpers) + 1
        assert [wish.key for wish in one.wishes] == ["sets", "texture"]
        assert one.fit == pytest.approx(sum(wish.distance for wish in one.wishes))


def test_agents_not_on_the_list_have_a_reason(answer):
    used = {agent.key for one in answer.proposals for agent in one.agents}
    out = {one.agents[0] for one in answer.fell_out}
    assert not used & out
    assert used | out == {
        "agar", "gelatin", "kappa_carrageenan", "iota_carrageenan", "locust_bean_gum",
        "starch_corn", "starch_tapioca",
    }  # fmt: skip
    assert all(one.why for one in answer.fell_out)


def test_first_results_are_single_agents():
    brief = brief_make(title="Cup", base="1000 g water", texture={"word": "brittle"},
                       shelf=("agar", "gelatin", "xanthan"))  # fmt: skip
    first = propose(brief, catalog=catalog_build(), is_first=True)
    assert not first.is_complete
    assert first.judged.pairs == first.judged.triples == 0
    assert all(len(one.agents) == 1 for one in first.proposals)


def test_a_count_that_cannot_be_shown_is_refused():
    brief = brief_make(title="Cup", base="1000 g water", texture={"word": "brittle"})
    with pytest.raises(InputError, match="0 proposals") as caught:
        propose(brief, catalog=catalog_build(), most=0)
    assert caught.value.field == "most"


def priced(value: float) -> Estimate:
    return Estimate(value, "EUR", value, value, "price")


def likely(value: float) -> Chance:
    return Chance("home", value, value, value, 256)


def test_what_another_beats_everywhere_is_not_on_the_front(answer):
    one = answer.proposals[0]
    good = replace(one, fit=0.0, chance=likely(0.9), cost_per_portion=priced(0.1), ingredients=1)
    worse = replace(one, fit=0.5, chance=likely(0.8), cost_per_portion=priced(0.2), ingredients=2)
    cheaper = replace(worse, cost_per_portion=priced(0.05))
    assert front_of([good, worse, cheaper]) == (True, False, True)
    assert front_of([good]) == (True,)
    assert front_of([]) == ()


def test_an_unknown_price_beats_none_that_is_known(answer):
    one = answer.proposals[0]
    good = replace(one, fit=0.0, chance=None, cost_per_portion=priced(0.1), ingredients=1)
    unknown = replace(good, fit=0.4, cost_per_portion=None)
    assert front_of([good, unknown]) == (True, False)
    assert front_of([unknown, replace(unknown, fit=0.41)]) == (True, True)
    assert front_of([replace(good, fit=0.4), replace(unknown, fit=0.0)]) == (True, True)
