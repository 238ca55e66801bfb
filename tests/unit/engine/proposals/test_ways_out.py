"""What a refinement aims for, and the way out of a brief that nothing meets."""

import numpy as np
import pytest

from setwell.domain.brief import Brief, Helper, brief_make
from setwell.domain.formula import Diet
from setwell.engine.catalog import catalog_build
from setwell.engine.proposals.aim import Aim
from setwell.engine.proposals.predicted import Predicted
from setwell.engine.proposals.propose import propose
from setwell.engine.proposals.relaxing import brief_changed
from setwell.engine.proposals.ways_out import limits_given_up
from setwell.engine.proposals.wish_windows import Wish, Within


def rows(**values: list[float]) -> Predicted:
    count = len(next(iter(values.values())))
    plain = {name: np.full(count, 1.0) for name in Predicted._fields}
    return Predicted(**{**plain, **{name: np.array(one) for name, one in values.items()}})


def test_the_middle_of_a_window_is_aimed_for():
    wish = Wish("firmness", "has it", (Within("modulus", 1.0, 4.0, 0.4, is_log=True),))
    value = Aim((wish,))(rows(modulus=[0.5, 1.0, 2.0, 4.0, 8.0]))
    assert np.argmin(value) == 2
    assert value[2] == 0
    assert value[1] == pytest.approx(value[3])
    assert value[0] > 1.0 > value[1]


def test_being_outside_counts_more_than_being_at_the_edge():
    narrow = Wish("texture", "a", (Within("strain", 0.5, None, 0.2, is_log=True),), 2.0)
    aim = Aim((narrow,))
    inside, edge, outside = aim(rows(strain=[0.9, 0.5, 0.45]))
    assert inside == 0
    assert 0 < edge < outside
    assert aim.outside(rows(strain=[0.5, 0.9])).tolist() == [0.0, 0.0]


def test_a_code_has_no_inside():
    wish = Wish("sets", "sets", (Within("sets", 1.0, None, 2.0),))
    assert Aim((wish,))(rows(sets=[1.0])).tolist() == [0.0]


def brief_of(**fields: object) -> Brief:
    return brief_make(title="Cup", base="900 g water\n100 g sugar", **fields)


def test_limits_are_given_up_one_at_a_time():
    assert limits_given_up(brief_of(texture={"word": "tender"})) == ()
    brief = brief_of(
        texture={"word": "tender"}, helpers=(), diets=(Diet.VEGAN,), shelf=("agar",),
        limits={"max_temperature_c": 60},
    )  # fmt: skip
    limits = limits_given_up(brief)
    assert [one.field for one in limits] == ["helpers", "limits.max_temperature_c", "diets"]
    assert limits[0].brief.helpers == tuple(Helper)
    assert limits[1].brief.limits.max_temperature_c == 100
    assert limits[2].brief.diets == ()
    assert limits[2].brief.shelf == ("agar",)


@pytest.fixture(scope="module")
def impossible():
    brief = brief_of(
        texture={"word": "elastic"}, clarity="clear", holds_c=75, diets=("vegan",), helpers=(),
        shelf=("agar", "gellan gum, low acyl", "kappa carrageenan", "xanthan gum"),
    )  # fmt: skip
    return propose(brief, catalog=catalog_build())


def test_an_impossible_brief_says_which_wishes_conflict(impossible):
    assert impossible.conflicts
    for conflict in impossible.conflicts:
        assert conflict.wishes
        assert conflict.text.startswith("Nothing judged")


def test_an_impossible_brief_offers_the_nearest_that_can_be(impossible):
    assert impossible.relaxations
    for one in impossible.relaxations:
        assert one.changes
        assert one.text.endswith(".")
        assert one.agents


def test_the_nearest_are_shown_even_so(impossible):
    assert impossible.proposals
    assert all(one.fit > 0 for one in impossible.proposals)


def test_a_brief_that_is_met_has_no_conflicts():
    met = propose(
        brief_of(texture={"word": "tender"}, shelf=("gelatin", "agar")), catalog=catalog_build()
    )
    assert met.proposals[0].fit == 0
    assert met.conflicts == met.relaxations == ()


def test_a_way_out_holds_when_it_is_taken(impossible):
    brief = brief_of(
        texture={"word": "elastic"}, clarity="clear", holds_c=75, diets=("vegan",), helpers=(),
        shelf=("agar", "gellan gum, low acyl", "kappa carrageenan", "xanthan gum"),
    )  # fmt: skip
    for way in impossible.relaxations:
        found = propose(brief_changed(brief, way.changes), catalog=catalog_build())
        assert not found.conflicts, way.text
