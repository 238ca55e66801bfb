"""Which wishes conflict, and what to give up."""

import pytest

from setwell.domain.brief import Mouth
from setwell.engine.proposals.conflicts import MetMasks, WhatIf, conflicts_of, relaxations_of
from setwell.engine.proposals.relaxing import brief_changed
from setwell.engine.proposals.wishes import distances, mask_of, wishes_of
from setwell.errors import DocumentError
from tests.builders_wishes import LIQUID, base_of, brief_of, met_of, rows_of

GELATIN = {"melt_c": 27.0, "set_c": 21.0, "frozen": 0}
AGAR = {"melt_c": 90.0, "strain": 0.35, "frozen": -1, "haze": 0.25}
WITH_LBG = {"melt_c": 70.0, "strain": 0.8, "haze": 0.3}
HOT_JELLY = {"texture": {"word": "elastic"}, "clarity": "clear", "holds_c": 75.0}


def asked(met, what_ifs=(), **fields):
    """Return conflicts, and relaxations that were proved to hold, as (brief, told) pairs."""
    brief = brief_of(**fields)
    base = base_of(brief)
    wishes = wishes_of(brief, base)
    told = relaxations_of(brief, base, wishes, met, what_ifs)
    changed = [(brief_changed(brief, one.changes), one) for one in told]
    for other, one in changed:
        where = next(w.met for w in [*what_ifs, WhatIf("", "", "", met)] if one.agents in w.met[1])
        again = wishes_of(other, base)
        rows = mask_of(distances(again, where.found))
        assert rows[where.agents.index(one.agents)] == 0
    return conflicts_of(wishes, met, what_ifs), changed


def test_what_something_meets_has_no_conflict():
    assert asked(met_of(good={"melt_c": 90.0}, agar=AGAR), **HOT_JELLY) == ((), [])


def test_nothing_judged_gives_no_conflict():
    empty = MetMasks(rows_of({}).taken([]), ())
    assert asked(empty, **HOT_JELLY) == ((), [])


def test_the_smallest_sets_of_wishes_are_told():
    conflicts, _ = asked(met_of(gelatin=GELATIN, agar=AGAR, lbg=WITH_LBG), **HOT_JELLY)
    assert [one.wishes for one in conflicts] == [("texture", "holds"), ("clarity", "holds")]
    assert conflicts[0].text == "Nothing judged is elastic and also stands up to 75 °C (167 °F)."


def test_three_wishes_can_conflict_though_each_two_are_met():
    met = met_of(a={"haze": 0.9}, b={"frozen": -1}, c={"melt_c": 30.0})
    conflicts, _ = asked(met, texture={"word": "elastic"}, clarity="clear", is_frozen=True,
                         holds_c=45.0)  # fmt: skip
    assert [set(one.wishes) for one in conflicts] == [{"clarity", "holds", "freezing"}]
    assert " and also " in conflicts[0].text


def test_where_nothing_sets_only_that_is_told():
    conflicts, told = asked(met_of(none=LIQUID), plating="unmolds", **HOT_JELLY)
    assert [one.wishes for one in conflicts] == [("sets",)]
    ((changed, one),) = told
    assert one.text == "Give up the gel, and take a liquid."
    assert changed.texture.sets is False
    assert changed.holds_c is None


def test_heat_is_given_up_by_degrees():
    _, told = asked(met_of(lbg={"melt_c": 67.4}), **HOT_JELLY)
    ((changed, one),) = told
    assert one.text == "Hold at 62 °C (144 °F) instead of 75 °C (167 °F)."
    assert one.changes == (("holds_c", "62"),)
    assert changed.holds_c == 62.0


def test_the_least_given_up_comes_first():
    _, told = asked(met_of(lbg=WITH_LBG, agar=AGAR, near={"melt_c": 74.0}), **HOT_JELLY)
    assert told[0][1].agents == ("near",)
    assert len(told) == 2, "what gives up more of the same wishes is not told"
    assert told[1][1].wishes == ("texture", "clarity")


def test_a_word_is_written_out_as_numbers_where_it_no_longer_holds():
    _, told = asked(met_of(lbg={"strain": 0.74}), texture={"word": "elastic", "modulus_low": 1.0})
    ((changed, one),) = told
    assert one.text == "Strain at break from 0.74 instead of 0.9."
    assert changed.texture.word == ""
    assert (changed.texture.stress_low, changed.texture.strain_low) == (2.0, 0.74)
    assert changed.texture.modulus_low == 1.0
    assert changed.texture.sets is True


@pytest.mark.parametrize(
    ("row", "wish", "side"),
    [
        ({"modulus": 0.5678}, {"modulus_low": 1.0}, ("modulus_low", 0.56)),
        ({"modulus": 5.4321}, {"modulus_high": 2.0}, ("modulus_high", 5.5)),
        ({"stress": 123.4}, {"stress_high": 20.0}, ("stress_high", 130.0)),
    ],
)
def test_numbers_are_rounded_away_from_the_candidate(row, wish, side):
    _, told = asked(met_of(one=row), texture=wish)
    ((changed, _),) = told
    assert getattr(changed.texture, side[0]) == side[1]


def test_a_way_that_contradicts_the_brief_is_passed_over():
    # A degree rounded down would lie below the temperature of serving.
    _, told = asked(
        met_of(soft={"melt_c": 15.6}), texture={"sets": True}, serving_c=10.4, holds_c=40.0
    )
    ((changed, one),) = told
    assert one.text == "It need not stand hot."
    assert changed.holds_c is None


def test_two_sides_of_one_word_are_given_up_together():
    met = met_of(soft={"strain": 0.7, "modulus": 0.5})
    _, told = asked(met, texture={"word": "elastic", "modulus_low": 1.0})
    ((changed, one),) = told
    assert one.wishes == ("texture", "firmness")
    assert (changed.texture.strain_low, changed.texture.modulus_low) == (0.7, 0.5)


@pytest.mark.parametrize(
    ("row", "fields", "text", "changes"),
    [
        ({"haze": 0.3}, {"clarity": "clear"}, "Allow slightly cloudy",
         (("clarity", "slightly cloudy"),)),
        ({"haze": 0.95}, {"clarity": "clear"}, "Let it be opaque", (("clarity", ""),)),
        ({"frozen": -1}, {"is_frozen": True}, "Do not freeze it", (("is_frozen", ""),)),
        ({}, {"mouth": "melts"}, "It need not melt in the mouth", (("mouth", ""),)),
        ({"modulus": 0.1}, {"plating": "unmolds"}, "Spoon it instead of unmolding it",
         (("plating", "spoons"),)),
        ({"modulus": 9.0}, {"plating": "spoons"}, "Leave open how it is plated",
         (("plating", ""),)),
        ({"set_c": 21.0}, {"limits": {"set_within_h": 1.0}}, "Let it set for 4 h instead of 1 h",
         (("limits.set_within_h", "4"),)),
        ({"cost": 7.0}, {"cost_most": 0.5}, "Pay up to 0.71 a portion instead of 0.50",
         (("cost_most", "0.71"),)),
        ({"modulus": 2.0}, {"texture": {"modulus_low": 4.0}},
         "Stiffness from 2 kPa instead of 4 kPa", (("texture.modulus_low", "2"),
                                                  ("texture.modulus_high", ""))),
    ],
)  # fmt: skip
def test_each_wish_can_ask_for_less(row, fields, text, changes):
    _, told = asked(met_of(one=row), **({"texture": {"sets": True}} | fields))
    assert [(one.text, one.changes) for _, one in told] == [(f"{text}.", changes)]


def test_a_limit_less_is_told_beside_the_wishes():
    boil = WhatIf(
        "limits.max_temperature_c", "100", "allow a boil", met_of(gellan={"melt_c": 85.0})
    )
    conflicts, told = asked(
        met_of(agar=AGAR), [boil], limits={"max_temperature_c": 70.0}, **HOT_JELLY
    )
    assert {one.wishes for one in conflicts} == {("texture",), ("clarity",)}
    assert all(one.text.endswith("What might help: allow a boil.") for one in conflicts)
    changed, one = told[0]
    assert one.text == "Allow a boil."
    assert one.wishes == ()
    assert changed.limits.max_temperature_c == 100.0


def test_a_limit_less_can_still_need_a_wish_less():
    salts = WhatIf("helpers", "potassium chloride, calcium lactate", "allow helper salts",
                   met_of(kappa={"melt_c": 72.0}))  # fmt: skip
    _, told = asked(met_of(agar={"sets": -1} | LIQUID), [salts], helpers=(), **HOT_JELLY)
    changed, one = told[0]
    assert one.text == "Allow helper salts; hold at 67 °C (153 °F) instead of 75 °C (167 °F)."
    assert len(changed.helpers) == 2


def test_fields_go_back_to_what_is_asked_of_nothing():
    brief = brief_of(mouth="melts", serving_c=8.0, texture={"word": "soft"}, diets=["vegan"])
    changed = brief_changed(brief, (("mouth", ""), ("texture.word", ""), ("diets", "")))
    assert (changed.mouth, changed.texture.word, changed.diets) == (Mouth.ANY, "", ())
    assert changed.serving_c == 8.0
    with pytest.raises(DocumentError):
        brief_changed(brief, (("serving_c", "hot"),))
