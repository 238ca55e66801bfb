"""What a computed proposal comes to, wish by wish."""

import numpy as np
import pytest

from setwell.engine.assess import assess, bench_build
from setwell.engine.catalog import catalog_build
from setwell.engine.proposals.answers import answers
from setwell.engine.proposals.predicted import predicted_of_texture
from setwell.engine.proposals.wishes import distances, wishes_of
from setwell.engine.verdict import Verdict
from setwell.provenance import Estimate
from tests.builders_engine import formula_of
from tests.builders_wishes import base_of, brief_of

GELATIN = ("900 g water", "100 g sugar", "18 g gelatin")
BLOOMED = "Heat to 60 °C\nChill to 4 °C for 12 h"
AGAR = ("900 g water", "100 g sugar", "8 g agar")
BOILED = "Bring to a boil and boil for 3 min\nChill to 4 °C for 12 h"
SAUCE = ("900 g water", "100 g sugar", "5 g xanthan")


def answered(lines, steps, *, cost=None, serving_c=4.0, **fields):
    """Return the answers by key."""
    brief = brief_of(serving_c=serving_c, **fields)
    wishes = wishes_of(brief, base_of(brief))
    texture = assess(formula_of(*lines, steps=steps, serving_temperature_c=serving_c)).texture
    return {one.key: one for one in answers(wishes, texture, cost=cost)}


def test_gelatin_answers_a_brief_for_an_elastic_cup():
    found = answered(GELATIN, BLOOMED, texture={"word": "elastic"}, mouth="melts",
                     clarity="clear", limits={"set_within_h": 8.0})  # fmt: skip
    assert {key: one.distance for key, one in found.items()} == dict.fromkeys(found, 0.0)
    assert found["sets"].holds is found["mouth"].holds is Verdict.YES
    assert found["texture"].found.endswith("elastic")
    assert "melts at 27 °C (81 °F)" in found["mouth"].found
    assert found["clarity"].found.startswith("looks clear")
    assert "on cooling" in found["setting"].found


def test_agar_is_too_brittle_and_melts_too_late():
    found = answered(AGAR, BOILED, texture={"word": "elastic"}, mouth="melts", is_frozen=True)
    assert found["texture"].holds is found["mouth"].holds is found["freezing"].holds is Verdict.NO
    assert found["texture"].distance > 1.0
    assert found["freezing"].found == "breaks and weeps after freezing"


def test_a_range_on_both_sides_cannot_be_told():
    found = answered(AGAR, BOILED, texture={"modulus_low": 9.0})
    assert found["firmness"].holds is Verdict.CANNOT_TELL
    assert " to " in found["firmness"].found


def test_a_liquid_has_no_gel_to_answer_for():
    found = answered(SAUCE, "Mix", texture={"word": "elastic"}, plating="unmolds", mouth="melts")
    assert {one.holds for one in found.values()} == {Verdict.NO}
    assert found["texture"].found == "has no gel to break"
    assert found["mouth"].found == "has no gel to melt"


def test_a_sauce_answers_in_thickness():
    found = answered(SAUCE, "Mix", texture={"word": "coating"}, plating="pours")
    assert found["thickness"].distance == 0.0
    assert "mPa·s when stirred, coating" in found["thickness"].found
    assert found["plating"].found == found["thickness"].found
    assert found["sets"].holds is Verdict.YES


def test_gelatin_served_hot_has_melted():
    found = answered(GELATIN, "Heat to 60 °C", serving_c=55.0, texture={"sets": True})
    assert found["sets"].holds is Verdict.NO
    assert found["sets"].found == "sets, and has melted when served"


def test_what_sets_on_heating_stands_when_it_gets_hotter():
    steps = "Mix\nChill to 4 °C for 12 h\nHeat to 70 °C"
    lines = ("900 g water", "18 g methylcellulose")
    found = answered(lines, steps, serving_c=70.0, texture={"sets": True}, holds_c=75.0)
    assert found["holds"].distance == 0.0
    assert found["holds"].found == "sets on heating, and stands while it is hot"


@pytest.mark.parametrize(
    ("cost", "holds", "words"),
    [
        (None, Verdict.CANNOT_TELL, "not all agents have a price"),
        (Estimate(1.0, "USD", 1.0, 1.0, "prices"), Verdict.YES, "1.00 per kg, of 5.00"),
        (Estimate(1.0, "USD", 1.0, None, "prices"), Verdict.CANNOT_TELL, "at least 1.00"),
        (Estimate(9.0, "USD", 9.0, None, "prices"), Verdict.NO, "at least 9.00"),
    ],
)
def test_a_cost_holds_as_far_as_prices_are_known(cost, holds, words):
    found = answered(AGAR, BOILED, cost=cost, texture={"sets": True}, cost_most=0.5)
    assert found["cost"].holds is holds
    assert words in found["cost"].found


@pytest.mark.parametrize(("lines", "steps"), [(GELATIN, BLOOMED), (AGAR, BOILED), (SAUCE, "Mix")])
def test_distances_are_those_of_the_search(lines, steps):
    brief = brief_of(texture={"word": "elastic", "modulus_low": 3.0}, clarity="clear",
                     mouth="melts", plating="unmolds")  # fmt: skip
    wishes = wishes_of(brief, base_of(brief))
    formula = formula_of(*lines, steps=steps, serving_temperature_c=4.0)
    bench = bench_build(formula, catalog=catalog_build(), parts={})
    row = predicted_of_texture(bench.state.texture, np.array([np.nan]))
    found = answers(wishes, assess(formula).texture)
    assert [one.distance for one in found] == pytest.approx(distances(wishes, row)[:, 0].tolist())


def test_a_row_tells_what_a_texture_leaves_out():
    brief = brief_of(texture={"word": "coating"}, is_frozen=True, cost_most=0.5)
    wishes = wishes_of(brief, base_of(brief))
    formula = formula_of(*SAUCE, steps="Mix", serving_temperature_c=4.0)
    bench = bench_build(formula, catalog=catalog_build(), parts={})
    row = predicted_of_texture(bench.state.texture, np.array([2.0]))
    row = row._replace(frozen=np.array([1], dtype=np.int8))
    found = {one.key: one for one in answers(wishes, assess(formula).texture, middle=row)}
    assert found["freezing"].holds is found["cost"].holds is Verdict.YES
    assert found["freezing"].found == "comes through freezing"
    assert found["cost"].found == "agents come to 2.00 per kg, of 5.00 that the base leaves"
