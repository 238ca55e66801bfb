"""Kappa, iota and brown powder in the kitchen: what a cook knows of them.

Where a test says "common practice, no source", it holds the model to a fact of the trade.
"""

import numpy as np
import pytest

from setwell import assess_many, formula_make
from setwell.engine.gelling.state import CANNOT_TELL, NO, YES, AgentState

KAPPA, IOTA, EUCHEUMA = "kappa_carrageenan", "iota_carrageenan", "processed_eucheuma"
NAMES = {KAPPA: "kappa carrageenan", IOTA: "iota carrageenan", EUCHEUMA: "processed eucheuma"}
STEPS = "Whisk the powder with the sugar into the cold liquid\nBoil 2 min, stirring\nChill to 4 °C"
EVERY = pytest.mark.parametrize("key", NAMES)
GELS_LIKE_KAPPA = pytest.mark.parametrize("key", [KAPPA, EUCHEUMA])


def gel(key: str, *lines: str, grams: float = 8.0, steps: str = STEPS) -> AgentState:
    """Return one agent in a batch of a liter."""
    text = "\n".join((*lines, f"{grams:g} g {NAMES[key]}"))
    formula = formula_make(title="Cup", ingredients=text, steps=steps)
    masses = [[float(line.split()[0]) for line in (*lines, f"{grams:g} g")]]
    return assess_many(formula, masses).state.agents[key]


WATER, MILK = "1000 g distilled water", "1000 g whole milk"
POTASSIUM = "2 g potassium chloride"
# Brings a liter of distilled water to about pH 3.7: the dose was found with this program.
ACID = "0.115 g citric acid"


def test_kappa_splits_and_iota_compresses():
    # Common practice, no source: kappa splits when cut, iota compresses.
    kappa, iota = gel(KAPPA, WATER, POTASSIUM).gel, gel(IOTA, WATER, "1 g calcium lactate").gel
    assert kappa.fracture_strain.high[0] < iota.fracture_strain.value[0]
    assert kappa.fracture_strain.value[0] < 0.8
    assert iota.fracture_strain.value[0] > 1.0
    assert kappa.modulus.value[0] > 2 * iota.modulus.value[0]


@pytest.mark.parametrize("key", [KAPPA, IOTA])
def test_at_ph_3_7_kappa_and_iota_fail(key):
    # Common practice, no source: below pH 4 they do not gel well; worst when boiled in the acid.
    # The shares 0.8 and 0.3 are our own and were drawn after the results were known.
    mild = gel(key, WATER, POTASSIUM)
    late = gel(
        key, WATER, POTASSIUM, ACID,
        steps="Boil 2 min, stirring\nCool to 60 °C\nAdd the citric acid\nChill to 4 °C",
    )  # fmt: skip
    boiled = gel(
        key, WATER, POTASSIUM, ACID,
        steps="Add the citric acid\nBoil 15 min, stirring\nChill to 4 °C",
    )  # fmt: skip
    acid = late.conditions[0]
    assert acid.found.value[0] == pytest.approx(3.7, abs=0.1)
    assert (acid.what, acid.holds[0]) == ("acid", CANNOT_TELL)
    assert mild.sets[0] == YES
    assert late.sets[0] != YES
    assert late.modulus.value[0] < 0.8 * mild.modulus.value[0]
    assert boiled.modulus.value[0] < 0.3 * late.modulus.value[0]


def test_brown_powder_needs_more():
    # Common practice, no source: less refined powder is weaker; more of it is needed. How much is
    # set by the strength factor; 0.4, 0.7 and the double dose were drawn after the results.
    white, brown = gel(KAPPA, WATER, POTASSIUM), gel(EUCHEUMA, WATER, POTASSIUM)
    assert brown.modulus.value[0] < 0.4 * white.modulus.value[0]
    assert brown.critical_pct.value[0] > white.critical_pct.value[0]
    twice = gel(EUCHEUMA, WATER, POTASSIUM, grams=16.0)
    assert brown.modulus.value[0] < 0.7 * white.modulus.value[0] < twice.modulus.value[0]


@pytest.mark.parametrize(("key", "share"), [(KAPPA, 0.9), (IOTA, 0.9), (EUCHEUMA, 0.75)])
def test_85_degrees_hydrates_and_55_does_not(key, share):
    # Common practice, no source: at least 85 °C through the whole batch; a boil does no harm.
    # Brown powder is slower. The tables were drawn so that 85 °C is enough: a guard, no check.
    hot = gel(key, WATER, steps="Heat to 85 °C, hold 10 min, stirring constantly\nChill to 4 °C")
    boil = gel(key, WATER, steps="Boil 10 min, stirring constantly\nChill to 4 °C")
    cool = gel(key, WATER, steps="Heat to 55 °C, stirring constantly\nChill to 4 °C")
    assert hot.hydrated.value[0] > share
    assert boil.hydrated.value[0] >= hot.hydrated.value[0]
    assert cool.hydrated.value[0] < 0.5


@pytest.mark.parametrize("key", [KAPPA, IOTA])
def test_rich_bases_set_near_71_in_practice_beside_the_line(key):
    # Common practice, no source: about 71 °C; the literature line stays beside it.
    found = gel(key, MILK)
    assert found.practice_set_c.value[0] == 71
    assert found.set_c.value[0] < 71


def test_ions_rank_potassium_calcium_sodium_in_the_setting_of_kappa():
    # Per mole: 20 mmol of each chloride.
    ranked = [
        gel(KAPPA, WATER, salt).set_c.value[0]
        for salt in ("1.491 g potassium chloride", "2.22 g calcium chloride", "1.169 g salt")
    ]
    assert ranked[0] > ranked[1] > ranked[2] > gel(KAPPA, WATER).set_c.value[0]


def test_too_much_potassium_softens_kappa_and_makes_it_weep():
    best = gel(KAPPA, WATER, "15 g potassium chloride")
    beyond = gel(KAPPA, WATER, "45 g potassium chloride")
    assert beyond.modulus.value[0] < best.modulus.value[0]
    assert beyond.weeps_pct.value[0] > best.weeps_pct.value[0]
    # It does not bend further for it.
    assert beyond.gel.fracture_strain.value[0] < gel(KAPPA, WATER).gel.fracture_strain.value[0]


def test_too_much_calcium_makes_kappa_cloudy_and_weak():
    amounts = (0.0, 2.0, 30.0)
    found = [
        gel(KAPPA, WATER, "15 g potassium chloride", f"{amount:g} g calcium chloride")
        for amount in amounts
    ]
    haze = [state.haze.value[0] for state in found]
    assert haze[0] < haze[1] < haze[2]
    assert haze[0] < 0.25
    assert haze[2] > 0.4
    assert found[2].modulus.value[0] < 0.7 * found[0].modulus.value[0]


def test_calcium_helps_iota_and_too_much_does_not():
    found = [
        gel(IOTA, WATER, f"{amount:g} g calcium chloride").modulus.value[0]
        for amount in (0.0, 1.7, 30.0)
    ]
    assert found[1] > 1.4 * found[0]
    assert found[2] < found[1]


@GELS_LIKE_KAPPA
def test_sugar_clears_hardens_and_warms(key):
    plain = gel(key, WATER, POTASSIUM)
    sweet = gel(key, "700 g distilled water", "300 g sugar", "1.4 g potassium chloride")
    assert sweet.haze.value[0] < plain.haze.value[0]
    assert sweet.modulus.value[0] > plain.modulus.value[0]
    assert sweet.gel.fracture_strain.value[0] < plain.gel.fracture_strain.value[0]
    assert sweet.weeps_pct.value[0] < plain.weeps_pct.value[0]
    assert sweet.set_c.value[0] > plain.set_c.value[0] + 12


def test_a_syrup_leaves_the_set_open():
    found = gel(KAPPA, "250 g distilled water", "750 g sugar", POTASSIUM)
    assert found.conditions[1].holds[0] == CANNOT_TELL
    assert found.sets[0] != YES
    assert found.is_extrapolated[0]


def test_brown_powder_is_cloudier():
    brown, white = gel(EUCHEUMA, WATER).haze, gel(KAPPA, WATER).haze
    assert brown.low[0] > 1.5 * white.value[0]
    assert brown.value[0] > 0.4


def test_kappa_weeps_and_breaks_in_the_freezer_and_iota_does_neither():
    kappa, iota = gel(KAPPA, WATER, POTASSIUM), gel(IOTA, WATER)
    assert 1 < kappa.weeps_pct.value[0] < 10
    assert iota.weeps_pct.value[0] < 0.5
    assert (kappa.frozen[0], iota.frozen[0]) == (NO, YES)
    assert gel(KAPPA, WATER, POTASSIUM, grams=20).weeps_pct.value[0] < kappa.weeps_pct.value[0]
    assert gel(KAPPA, MILK, grams=8).weeps_pct.value[0] < 6


def test_milk_helps_kappa_more_than_iota():
    gains = []
    for key in (KAPPA, IOTA):
        milk = gel(key, MILK).modulus.value[0]
        salty = gel(key, WATER, "3 g potassium chloride", "1.3 g salt", "0.4 g calcium chloride")
        gains.append(milk / salty.modulus.value[0])
    assert gains[0] > 2 * gains[1] > 2.0


def test_fat_leaves_the_gum_more_concentrated_in_the_rest():
    lean = gel(KAPPA, WATER, POTASSIUM)
    fat = gel(KAPPA, "700 g distilled water", "300 g sunflower oil", "1.4 g potassium chloride")
    assert fat.modulus.value[0] > 1.2 * lean.modulus.value[0]


@EVERY
def test_right_above_the_critical_dose_a_gel_is_far_below_its_power_law(key):
    doses = [2.2, 8.0]
    near, far = (gel(key, WATER, POTASSIUM, grams=grams) for grams in doses)
    assert near.modulus.low[0] == 0.0
    assert near.modulus.value[0] < 0.4 * far.modulus.value[0] * (doses[0] / doses[1]) ** 2


@EVERY
def test_every_number_of_a_gel_has_its_citation(key):
    origins = gel(key, MILK).origins
    for part in ("hydration", "gelling", "setting", "melting", "strength", "fracture", "look"):
        assert getattr(origins, part), part
    assert "common_practice" in {citation.source for citation in origins.look}


def test_kappa_offers_the_second_form_of_its_setting_law():
    found = gel(KAPPA, WATER, POTASSIUM)
    assert found.other_set.name
    assert abs(found.other_set.set_c.value[0] - found.set_c.value[0]) < 6
    assert gel(IOTA, WATER).other_set is None


def test_the_range_of_the_set_holds_the_second_form():
    found = gel(KAPPA, WATER, POTASSIUM)
    other = found.other_set.set_c.value
    assert np.all((found.set_c.low <= other) & (other <= found.set_c.high))
