"""Pectin, alginate, cellulose ethers and starch answer the kitchen as a cook would expect.

What is asserted here is common practice, no source, unless a line says otherwise.
"""

import numpy as np
import pytest
from builders_gels import state_of

from setwell.engine.gelling.alginate import skin_in_bath
from setwell.engine.gelling.parameters import parameter
from setwell.engine.gelling.state import CANNOT_TELL, NO, YES, AgentState, SetsOn

JAM = "Whisk the pectin with the sugar into the water\nBoil 5 min, stirring\nPour\nCool to 20 °C"
GLAZE = "Whisk the pectin with the sugar into the water\nBoil 3 min, stirring\nPour\nChill"
COOKED = "Stir the starch into the water\nBoil 2 min, stirring\nChill at 4 °C"
WARMED = "Stir the starch into the water\nWarm to 55 °C, stirring\nChill at 4 °C"
BLENDED = "Blend the alginate into the water\nRest 60 min"
COLD = "Whisk the powder into the water\nChill at 4 °C\nRest at 4 °C for 12 h"
WATER = "400 g distilled water"
CALCIUM = "1 g calcium lactate"
GELLING = ("cornstarch", "wheat starch", "rice starch", "potato starch", "tapioca starch")
OTHERS = ("waxy maize starch", "modified starch", "pregelatinized starch")
ETHERS = ("methylcellulose", "hpmc E", "hpmc F", "hpmc K")


def firm(found: AgentState) -> float:
    return float(found.gel.modulus.value[0])


def thick(found: AgentState, shear_rate: float = 50.0) -> float:
    return float(found.flow.at(shear_rate).value[0])


def met(found: AgentState, what: str) -> int:
    (one,) = [c for c in found.conditions if c.what == what]
    assert one.need
    assert one.found.low[0] <= one.found.value[0] <= one.found.high[0]
    return int(one.holds[0])


def jam(*, sugar: float = 680, ph: float = 3.05, name: str = "HM pectin") -> AgentState:
    lines = (f"{1000 - sugar:g} g water", f"{sugar:g} g sugar", f"9 g {name}")
    return state_of(*lines, steps=JAM, ph=ph)


def glaze(calcium: float, *, name: str = "LM pectin", ph: float = 3.6) -> AgentState:
    salt = (f"{calcium:g} g calcium lactate",) if calcium else ()
    return state_of(WATER, "100 g sugar", *salt, f"5 g {name}", steps=GLAZE, ph=ph)


# High-methoxyl pectin.


def test_jam_sets_with_sugar_and_acid():
    found = jam()
    assert found.sets[0] == YES
    assert 200 < firm(found) < 10_000


def test_jam_needs_sugar():
    found = jam(sugar=350)
    assert (found.sets[0], met(found, "dissolved solids"), met(found, "acidity")) == (NO, NO, YES)
    assert firm(found) == 0


def test_jam_needs_acid():
    found = jam(ph=4.0)
    assert (found.sets[0], met(found, "dissolved solids"), met(found, "acidity")) == (NO, YES, NO)


def test_jam_that_is_too_sour_is_weaker_and_weeps():
    good, sour = jam(), jam(ph=2.4)
    assert firm(sour) < firm(good)
    assert sour.weeps_pct.value[0] > 3 * good.weeps_pct.value[0]
    assert met(sour, "acidity") == CANNOT_TELL


def test_set_jam_never_melts():
    assert jam().melt_c is None


def test_rapid_set_pectin_sets_hotter_and_sooner_than_slow_set():
    rapid, slow = jam(name="rapid set pectin"), jam()
    assert rapid.key == "pectin_HM_rapid"
    assert rapid.set_c.value[0] > slow.set_c.value[0] + 10
    minutes = {key: parameter(key, "time_to_set") for key in (rapid.key, "pectin_HM_slow")}
    assert minutes["pectin_HM_rapid"].high < minutes["pectin_HM_slow"].low


def test_jam_sets_warmer_when_sourer_or_sweeter():
    assert jam(ph=2.8).set_c.value[0] > jam(ph=3.2).set_c.value[0]
    assert jam(sugar=720).set_c.value[0] > jam(sugar=640).set_c.value[0]


def test_a_long_slow_boil_weakens_pectin():
    lines = ("320 g water", "680 g sugar", "9 g HM pectin")
    long = state_of(*lines, steps=JAM.replace("5 min", "60 min"), ph=3.05)
    assert long.kept.share.value[0] < 0.8 * jam().kept.share.value[0]


# Low-methoxyl pectin.


@pytest.mark.parametrize("name", ["LM pectin", "pectin NH"])
def test_low_methoxyl_pectin_needs_calcium_and_melts_above_where_it_sets(name):
    without, with_it = glaze(0, name=name), glaze(2, name=name)
    assert (without.sets[0], met(without, "calcium")) == (NO, NO)
    assert with_it.sets[0] > NO
    assert met(with_it, "calcium") == YES
    assert firm(with_it) > 100 > firm(without)
    assert (with_it.melt_c.value > with_it.set_c.value).all()


def test_more_calcium_sets_low_methoxyl_pectin_warmer():
    assert glaze(3).set_c.value[0] > glaze(1).set_c.value[0] + 3


def test_far_too_much_calcium_makes_it_weaker_and_weep():
    good, much = glaze(2), glaze(12)
    assert firm(much) < firm(good)
    assert much.weeps_pct.value[0] > good.weeps_pct.value[0]
    assert met(much, "calcium") == CANNOT_TELL


def test_citrate_takes_calcium_from_low_methoxyl_pectin():
    lines = (WATER, "100 g sugar", "1 g calcium lactate")
    plain = state_of(*lines, "5 g LM pectin", steps=GLAZE, ph=5.0)
    held = state_of(*lines, "4 g sodium citrate", "5 g LM pectin", steps=GLAZE, ph=5.0)
    assert firm(held) < 0.2 * firm(plain)


# Alginate.


def test_alginate_without_calcium_is_a_thick_liquid():
    found = state_of(WATER, "6 g sodium alginate", steps=BLENDED, ph=6.5)
    assert (found.sets[0], found.sets_on, found.melt_c) == (NO, SetsOn.IONS, None)
    assert thick(found) > 20 * float(found.flow.base[0])


def test_magnesium_does_not_gel_alginate():
    found = state_of(WATER, "2 g magnesium chloride", "6 g sodium alginate", steps=BLENDED, ph=6.5)
    assert (found.sets[0], met(found, "calcium")) == (NO, NO)


def test_calcium_counts_for_alginate_by_the_gram():
    found = state_of(WATER, "2 g calcium lactate", "4 g sodium alginate", steps=BLENDED, ph=6.5)
    assert met(found, "calcium") == YES
    assert found.gel.modulus.high[0] > 1000


def test_alginate_turns_to_alginic_acid_when_sour():
    found = state_of(WATER, CALCIUM, "4 g sodium alginate", steps=BLENDED, ph=3.2)
    assert (found.sets[0], met(found, "acidity")) == (NO, NO)


def test_drops_of_alginate_get_a_skin_in_a_calcium_bath():
    """1 % of calcium chloride dihydrate is 68 mmol/kg; a minute makes about a millimeter."""
    doses, bath = np.array([0.5, 0.5, 0.05]), np.array([68.0, 0.5, 68.0])
    codes, skin = skin_in_bath(doses, bath, np.full(3, 60.0))
    assert codes.tolist() == [YES, NO, NO]
    assert 0.3 < skin.low[0] < skin.value[0] < skin.high[0] < 2.0
    assert skin.value[1] == skin.value[2] == 0.0


# Cellulose ethers.


def test_methylcellulose_is_firm_when_hot_and_liquid_when_cold():
    steps = f"{COLD}\nHeat to 75 °C"
    hot, cold = (
        state_of("500 g water", "10 g methylcellulose", steps=steps, serving_temperature_c=t)
        for t in (70, 15)
    )
    assert hot.sets[0] == YES
    assert firm(hot) > 500
    assert firm(cold) == 0 == cold.gel.modulus.high[0]
    assert thick(cold) > 0.05
    assert hot.haze.value[0] > 0.5 > cold.haze.value[0]


def test_methylcellulose_that_was_never_heated_does_not_set():
    found = state_of("500 g water", "10 g methylcellulose", steps=COLD)
    assert (found.sets[0], found.sets_on) == (NO, SetsOn.HEATING)


def test_methylcellulose_needs_a_rest_in_the_cold():
    steps = "Whisk the powder into the water\nHeat to 75 °C"
    found = state_of("500 g water", "10 g methylcellulose", steps=steps)
    assert found.hydrated.value[0] < 0.2


def test_ethers_set_at_rising_temperatures_and_melt_below_them():
    found = [state_of("500 g water", f"10 g {name}", steps=COLD) for name in ETHERS]
    sets = [one.set_c.value[0] for one in found]
    assert sets == sorted(sets)
    assert all((one.melt_c.value < one.set_c.value).all() for one in found)


def test_salt_and_sugar_lower_the_gelling_of_ethers():
    plain = state_of("500 g water", "10 g methylcellulose", steps=COLD)
    salted = state_of("500 g water", "10 g salt", "10 g methylcellulose", steps=COLD)
    sweet = state_of("500 g water", "200 g sugar", "10 g methylcellulose", steps=COLD)
    assert -3.5 < salted.set_c.value[0] - plain.set_c.value[0] < -1.5
    assert -10 < sweet.set_c.value[0] - plain.set_c.value[0] < -3


# Starch.


@pytest.mark.parametrize("name", [*GELLING, *OTHERS[:2]])
def test_starch_needs_a_boil(name):
    raw = state_of("500 g water", f"40 g {name}", steps=WARMED.replace("55", "45"))
    cooked = state_of("500 g water", f"40 g {name}", steps=COOKED)
    assert raw.hydrated.value[0] < 0.05
    assert cooked.hydrated.value[0] > 0.9
    assert thick(cooked) > 50 * thick(raw)
    assert raw.sets[0] == NO


def test_pregelatinized_starch_thickens_cold():
    steps = "Whisk the starch with the sugar into the water\nRest 30 min"
    found = state_of("500 g water", "60 g sugar", "30 g pregelatinized starch", steps=steps)
    assert thick(found) > 20 * float(found.flow.base[0])


def test_cornstarch_pudding_gels_and_a_sauce_does_not():
    pudding = state_of("500 g water", "45 g cornstarch", steps=COOKED)
    sauce = state_of("500 g water", "12 g cornstarch", steps=COOKED)
    assert (pudding.sets[0], sauce.sets[0]) == (YES, NO)
    assert (pudding.melt_c, sauce.melt_c) == (None, None)
    assert firm(sauce) == 0


@pytest.mark.parametrize("name", OTHERS)
def test_waxy_modified_and_pregelatinized_starch_never_gel(name):
    found = state_of("500 g water", "60 g sugar", f"60 g {name}", steps=COOKED)
    assert (found.sets[0], found.gel, found.sets_on) == (NO, None, SetsOn.NOTHING)


def test_a_hot_paste_is_thinner_than_a_cold_one():
    hot, cold = (
        state_of("500 g water", "20 g cornstarch", steps=COOKED, serving_temperature_c=t)
        for t in (70, 10)
    )
    assert thick(hot) < 0.6 * thick(cold)


def test_a_paste_thins_when_it_is_stirred_faster():
    found = state_of("500 g water", "25 g cornstarch", steps=COOKED)
    assert (np.diff(found.flow.viscosity.value[0]) < 0).all()


def test_salt_thins_potato_starch_strongly_and_cornstarch_not():
    def ratio(name: str) -> float:
        plain = state_of("500 g water", f"20 g {name}", steps=COOKED)
        salted = state_of("500 g water", "8 g salt", f"20 g {name}", steps=COOKED)
        return thick(salted) / thick(plain)

    assert ratio("potato starch") < 0.6
    assert ratio("cornstarch") > 0.85


def test_cooking_in_acid_thins_native_starch_more_than_crosslinked():
    def kept(name: str) -> float:
        lines = ("500 g water", "8 g citric acid", f"25 g {name}")
        return float(state_of(*lines, steps=COOKED).kept.share.value[0])

    assert kept("cornstarch") < 0.7 < kept("modified starch")


def test_starch_comes_through_freezing_by_kind():
    kinds = {"cornstarch": NO, "waxy maize starch": CANNOT_TELL, "modified starch": YES}
    found = {name: state_of("500 g water", f"25 g {name}", steps=COOKED) for name in kinds}
    assert {name: one.frozen[0] for name, one in found.items()} == kinds
    weeps = [one.weeps_pct.value[0] for one in found.values()]
    assert weeps == sorted(weeps, reverse=True)
