"""A brief that hardly anything meets still shows what there is, and what comes next."""

import pytest

from setwell.domain.brief import brief_make
from setwell.engine.catalog import catalog_build
from setwell.engine.proposals.propose import propose
from setwell.engine.proposals.results import Proposals
from setwell.engine.proposals.shortlist import families_of

CATALOG = catalog_build()


def proposed(**fields):
    return propose(brief_make(title="Cup", **fields), catalog=CATALOG)


def keys_of(found):
    return [tuple(agent.key for agent in one.agents) for one in found.proposals]


def test_variants_of_the_only_answer_are_shown_where_little_else_is():
    found = proposed(
        base="600 g vodka\n300 g water\n100 g sugar", texture={"sets": True, "modulus_low": 1.0}
    )
    assert sorted(keys_of(found)) == [("gelatin",), ("gelatin_fish_cold",)]


@pytest.fixture(scope="module")
def plenty() -> Proposals:
    return proposed(base="900 g milk\n100 g sugar", texture={"sets": True, "modulus_low": 1.0})


def test_where_enough_fits_no_two_are_variants_of_one(plenty):
    families = [families_of(keys) for keys in keys_of(plenty)]
    assert len(families) >= 3
    assert len(set(families)) == len(families)


def test_what_comes_next_says_which_wish_it_misses():
    found = proposed(
        base="880 g water\n120 g sugar", serving_c=10, mouth="melts", plating="unmolds",
        texture={"sets": True, "modulus_low": 1.0}, shelf=("gelatin", "agar"), agents_most=1,
    )  # fmt: skip
    assert keys_of(found) == [("gelatin",)]
    assert found.nearest == ("Next nearest: Agar keeps 3 of 4 wishes, not: melts in the mouth.",)


def test_where_enough_fits_nothing_is_told_of_what_comes_next(plenty):
    assert not plenty.nearest


def test_what_misses_most_wishes_is_near_nothing():
    found = proposed(
        base="880 g water\n120 g sugar", plating="unmolds", agents_most=1,
        texture={"sets": True, "modulus_low": 1.0}, shelf=("agar", "guar gum"),
    )  # fmt: skip
    assert keys_of(found) == [("agar",)]
    assert not found.nearest
