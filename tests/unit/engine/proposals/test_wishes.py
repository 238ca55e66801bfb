"""The wishes of a brief as windows on computed numbers."""

import pickle

import numpy as np
import pytest

from setwell.domain.pantry import Pantry, Price
from setwell.engine.proposals.predicted import Predicted
from setwell.engine.proposals.wishes import (
    FARTHEST,
    OPEN,
    Wish,
    Within,
    distances,
    kept_text,
    mask_of,
    wishes_of,
)
from setwell.engine.texture_results import Texture
from setwell.engine.verdict import Verdict
from setwell.errors import InputError
from setwell.provenance import Estimate
from tests.builders_wishes import LIQUID, base_of, brief_of, rows_of, wishes_from


def far(wish, **row):
    return float(distances((wish,), rows_of(row))[0, 0])


def about(value, unit=""):
    return Estimate(value, unit, value / 2, value * 2, "test")


def texture_of(sets=Verdict.YES, **fields):
    return Texture("", sets, fields.pop("modulus_kpa", None), "", (), 4.0, **fields)


def test_a_word_of_the_map_asks_for_a_gel_that_breaks_there():
    wishes = wishes_from(texture={"word": "elastic"})
    assert list(wishes) == ["sets", "texture"]
    assert far(wishes["texture"], stress=5.0, strain=1.0) == 0.0
    assert far(wishes["texture"], stress=5.0, strain=0.5) > 1.0
    assert far(wishes["texture"], stress=1.0, strain=1.0) > 1.0
    assert "is elastic" in wishes["texture"].asked


@pytest.mark.parametrize("word", ["very firm", "very_firm", "Very Firm"])
def test_a_word_is_known_by_its_name_and_its_key(word):
    wishes = wishes_from(texture={"word": word})
    assert far(wishes["firmness"], modulus=30.0) == 0.0
    assert far(wishes["firmness"], modulus=10.0) > 1.0


def test_a_word_of_flow_asks_for_a_liquid():
    wishes = wishes_from(texture={"word": "coating"})
    assert list(wishes) == ["sets", "thickness"]
    assert far(wishes["sets"], **LIQUID) == 0.0
    assert far(wishes["sets"]) == FARTHEST
    assert far(wishes["thickness"], **LIQUID) == 0.0
    assert far(wishes["thickness"], thickness=np.nan) == FARTHEST


def test_numbers_count_beside_a_word():
    wishes = wishes_from(texture={"word": "elastic", "stress_low": 4.0, "modulus_high": 3.0})
    assert far(wishes["texture"], stress=3.0) > 0.0
    assert far(wishes["texture"], stress=19.0) == 0.0
    assert far(wishes["firmness"], modulus=4.0) > 0.0


def test_a_gel_asked_for_has_to_stand_when_served():
    wish = wishes_from(texture={"sets": True})["sets"]
    assert far(wish) == 0.0
    assert far(wish, sets=0) == OPEN
    assert far(wish, sets=-1, modulus=0.0) == FARTHEST
    assert far(wish, modulus=0.0) == FARTHEST, "has melted when served"


def test_a_reference_asks_for_numbers_around_its_own():
    like = texture_of(
        modulus_kpa=about(2.0), fracture_stress_kpa=about(6.0), fracture_strain=about(1.2)
    )
    wishes = wishes_from(like=like, texture={"like": "Cup of gelatin"})
    assert list(wishes) == ["sets", "texture", "firmness"]
    assert far(wishes["firmness"], modulus=2.0 * 1.49) == 0.0
    assert far(wishes["firmness"], modulus=2.0 * 1.6) > 0.0
    assert far(wishes["texture"], stress=6.0, strain=1.2 / 1.24) == 0.0
    assert far(wishes["texture"], stress=6.0, strain=1.2 / 1.4) > 0.0
    assert "like the reference" in wishes["texture"].asked


def test_a_liquid_reference_asks_for_its_thickness():
    like = texture_of(Verdict.NO, viscosity_mpa_s=about(300.0, "mPa·s"))
    wishes = wishes_from(like=like, texture={"like": "Sauce"})
    assert list(wishes) == ["sets", "thickness"]
    assert far(wishes["thickness"], thickness=300.0 / 1.6) > 0.0


def test_numbers_win_over_a_reference():
    like = texture_of(modulus_kpa=about(2.0))
    wishes = wishes_from(like=like, texture={"like": "Cup", "modulus_low": 10.0})
    assert far(wishes["firmness"], modulus=50.0) == 0.0
    assert far(wishes["firmness"], modulus=2.0) > 1.0


def test_clarity_takes_what_is_clearer_too():
    wish = wishes_from(texture={"word": "soft"}, clarity="slightly cloudy")["clarity"]
    assert far(wish, haze=0.05) == far(wish, haze=0.4) == 0.0
    assert far(wish, haze=0.6) > 1.0


def test_melting_in_the_mouth_ends_between_34_and_37_degrees():
    wish = wishes_from(mouth="melts", plating="unmolds")["mouth"]
    assert far(wish, melt_c=30.0) == far(wish, melt_c=35.5) == 0.0
    assert far(wish, melt_c=37.0) == OPEN
    assert far(wish, melt_c=np.inf) == far(wish, melt_c=np.nan) == FARTHEST


def test_holding_hot_takes_a_margin_below_melting():
    wishes = wishes_from(texture={"word": "soft"}, holds_c=62.0)
    assert far(wishes["holds"], melt_c=67.0) == far(wishes["holds"], melt_c=np.inf) == 0.0
    assert far(wishes["holds"], melt_c=62.0) == 1.0
    assert far(wishes["holds"], melt_c=np.nan) == FARTHEST


@pytest.mark.parametrize("field", [{"mouth": "holds"}, {"holds_c": 60.0},
                                   {"limits": {"set_within_h": 2.0}}])  # fmt: skip
def test_what_only_a_gel_can_do_asks_for_a_gel(field):
    assert "sets" in wishes_from(**field)


def test_what_unmolds_is_firm_and_what_is_spooned_is_not_too_firm():
    unmolds = wishes_from(plating="unmolds")["plating"]
    spoons = wishes_from(plating="spoons")["plating"]
    assert far(unmolds, modulus=0.3) == 0.0 < far(unmolds, modulus=0.1)
    assert far(spoons, modulus=0.1) == 0.0 < far(spoons, modulus=8.0)


def test_a_liquid_that_is_spooned_is_thick_and_one_that_pours_is_thin():
    spoons = wishes_from(texture={"sets": False}, plating="spoons")["plating"]
    pours = wishes_from(plating="pours")["plating"]
    assert far(spoons, thickness=900.0) == 0.0 < far(spoons, thickness=200.0)
    assert far(pours, thickness=200.0) == 0.0 < far(pours, thickness=2000.0)
    assert far(pours, thickness=np.nan) == OPEN


def test_in_two_hours_agar_stands_and_gelatin_does_not():
    wish = wishes_from(texture={"word": "soft"}, limits={"set_within_h": 2.0})["setting"]
    assert far(wish, set_c=38.0) == 0.0
    assert far(wish, set_c=21.0) > 1.0
    overnight = wishes_from(texture={"word": "soft"}, limits={"set_within_h": 12.0})["setting"]
    assert far(overnight, set_c=21.0) == 0.0


def test_what_sets_without_cooling_waits_for_no_fridge():
    wish = wishes_from(texture={"word": "soft"}, limits={"set_within_h": 1.0})["setting"]
    assert far(wish, set_c=np.nan) == 0.0


def test_the_cost_of_the_base_is_taken_off_the_ceiling():
    brief = brief_of(texture={"word": "soft"}, cost_most=0.05, portion_g=100.0)
    pantry = Pantry(prices=(Price(material="sugar", price_per_kg=2.0),))
    wishes = {wish.key: wish for wish in wishes_of(brief, base_of(brief, pantry))}
    # 0.50 a kg in all; 100 g of sugar in a kg of base cost 0.20.
    assert wishes["cost"].windows[0].high == pytest.approx(0.30)
    assert far(wishes["cost"], cost=0.29) == 0.0 < far(wishes["cost"], cost=0.33)
    assert far(wishes["cost"], cost=np.nan) == 0.0, "an unknown price is no miss"


def test_a_base_above_the_ceiling_is_told_at_the_cost():
    brief = brief_of(texture={"word": "soft"}, cost_most=0.01)
    pantry = Pantry(prices=(Price(material="sugar", price_per_kg=2.0),))
    with pytest.raises(InputError, match="base alone") as told:
        wishes_of(brief, base_of(brief, pantry))
    assert told.value.field == "cost_most"


def test_each_wish_not_met_is_one_bit():
    wishes = tuple(wishes_from(texture={"word": "elastic"}, clarity="clear").values())
    found = rows_of({}, {"haze": 0.9}, {"strain": 0.2}, {"haze": 0.9} | LIQUID)
    masks = mask_of(distances(wishes, found))
    assert masks.dtype == np.uint32
    assert masks.tolist() == [0b000, 0b100, 0b010, 0b111]
    assert kept_text(wishes, 0) == "every wish"
    assert kept_text(wishes, 0b100) == "2 of 3 wishes, not: looks clear"


def test_a_miss_that_nobody_would_notice_is_none():
    wish = Wish("firmness", "is so", (Within("modulus", 1.0, None, 1.0),))
    far_off = distances((wish,), rows_of({"modulus": 0.5}, {"modulus": 0.4}))
    assert mask_of(far_off).tolist() == [0, 1]


def test_wishes_can_be_sent_to_another_process():
    brief = brief_of(texture={"word": "elastic"}, clarity="clear", mouth="melts")
    wishes = wishes_of(brief, base_of(brief))
    assert pickle.loads(pickle.dumps(wishes)) == wishes  # noqa: S301 - our own bytes


def test_candidates_of_any_shape_are_judged_alike():
    wishes = tuple(wishes_from(texture={"word": "elastic"}, clarity="clear").values())
    many = 40_000
    found = Predicted._make(np.tile(part, many) for part in rows_of({}))
    found = found._replace(haze=np.linspace(0.0, 1.0, many))
    flat = distances(wishes, found)
    cube = distances(wishes, found._make(part.reshape(100, 4, 100) for part in found))
    assert cube.shape == (3, 100, 4, 100)
    assert np.array_equal(cube.reshape(3, -1), flat)
    assert np.array_equal(distances(wishes, found._make(p[-1:] for p in found))[:, 0], flat[:, -1])
