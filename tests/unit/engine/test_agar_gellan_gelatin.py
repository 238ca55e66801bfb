"""Agar, gellan, gelatin and konjac answer the kitchen the way a cook would expect."""

import numpy as np
import pytest
from builders_engine import formula_of

from setwell.engine.catalog import catalog_build
from setwell.engine.gelling.state import CANNOT_TELL, NO, YES, AgentState
from setwell.engine.material import Span
from setwell.engine.pipeline import batch_assess
from setwell.engine.plan import plan_build

BOILED = "Whisk the powder into the liquid\nBoil 2 min, stirring\nChill at 4 °C"
BLOOMED = "Bloom the gelatin\nWarm to 60 °C, stirring\nChill to 4 °C"
WATER = "500 g distilled water"
CATALOG = catalog_build()


def batch(*lines: str, steps: str = BOILED, ph: float | None = None, **fields: object):
    plan = plan_build(formula_of(*lines, steps=steps, **fields), catalog=CATALOG, parts={})
    measured = None if ph is None else Span(ph, ph - 0.1, ph + 0.1)
    return batch_assess(plan, plan.line_masses(), measured_ph=measured)


def state(*lines: str, steps: str = BOILED, ph: float | None = None, **fields: object):
    (found,) = batch(*lines, steps=steps, ph=ph, **fields).agents.values()
    return found


def firm(found: AgentState) -> float:
    return float(found.gel.modulus.value[0])


def need(found: AgentState, what: str):
    (one,) = [c for c in found.conditions if what in c.what]
    return one


# Agar.


def test_sugar_stiffens_agar_first_and_softens_it_later():
    def sweet(sugar: float) -> AgentState:
        return state(f"{500 - sugar:g} g distilled water", f"{sugar:g} g sugar", "6 g agar")

    doses = [sweet(s) for s in (0, 150, 330)]
    plain, better, worse = (firm(one) / one.effective_pct.value[0] ** 2 for one in doses)
    assert better > 1.1 * plain
    assert worse < plain


def test_sugar_raises_the_melting_of_agar_clears_it_and_holds_its_water():
    plain = state(WATER, "6 g agar")
    sweet = state("300 g distilled water", "200 g sugar", "6 g agar")
    assert sweet.melt_c.value[0] > plain.melt_c.value[0] + 2
    assert sweet.haze.value[0] < plain.haze.value[0]
    assert sweet.weeps_pct.value[0] < plain.weeps_pct.value[0]


def test_more_agar_weeps_less_and_freezing_breaks_it():
    thin, thick = state(WATER, "3 g agar"), state(WATER, "9 g agar")
    assert thick.weeps_pct.value[0] < thin.weeps_pct.value[0]
    assert thick.frozen[0] == NO


def test_agar_below_its_critical_dose_has_no_modulus():
    found = state(WATER, "0.4 g agar")
    assert found.sets[0] == NO
    assert firm(found) == 0.0


# Gellan.


def test_calcium_makes_low_acyl_gellan_firmer_up_to_a_point():
    def limed(grams: float) -> AgentState:
        lines = [WATER, "2.5 g low acyl gellan"]
        return state(*lines, *([f"{grams:g} g calcium chloride"] if grams else []))

    none, best, much = limed(0.0), limed(0.22), limed(2.5)
    ions = [need(one, "ions").found.value[0] for one in (none, best, much)]
    assert ions[0] < 0.3
    assert 2 < ions[1] < 6
    assert ions[2] > 20
    assert firm(best) > 2 * firm(none)
    assert firm(best) > 2 * firm(much)
    # Few ions leave it more stretchy.
    strains = [one.gel.fracture_strain.value[0] for one in (none, best, much)]
    assert strains[0] > 1.2 * strains[1]
    assert strains[1] == strains[2]


def test_calcium_gels_of_gellan_do_not_melt_in_a_boiling_pot_and_salt_gels_do():
    limed = state(WATER, "2.5 g low acyl gellan", "0.3 g calcium chloride")
    salted = state(WATER, "2.5 g low acyl gellan", "3 g salt")
    assert limed.melt_c.low[0] > 100
    assert salted.melt_c.value[0] < 100


def test_ions_raise_the_setting_of_low_acyl_gellan_and_not_of_high_acyl():
    for kind, rises in (("low", True), ("high", False)):
        plain = state(WATER, f"2.5 g {kind} acyl gellan")
        salted = state(WATER, f"2.5 g {kind} acyl gellan", "3 g salt")
        gap = salted.set_c.value[0] - plain.set_c.value[0]
        assert gap > 5 if rises else gap == 0


def test_low_acyl_gellan_names_the_ions_it_needs():
    found = state(WATER, "1 g low acyl gellan")
    ions = need(found, "ions")
    # The powder's own calcium may do, so it is not refused outright.
    assert ions.holds[0] == CANNOT_TELL
    assert found.sets[0] == CANNOT_TELL
    assert state(WATER, "0.3 g low acyl gellan").sets[0] == NO
    assert ions.need == ("2 to 6 mmol/kg of free calcium or 80 to 160 of sodium and potassium")
    assert state("500 g whole milk", "1 g low acyl gellan").sets[0] == YES


def test_a_dose_for_a_fluid_gel_is_not_promised_to_set():
    assert state("500 g whole milk", "0.17 g low acyl gellan").sets[0] != YES


def test_gellan_far_too_sour_is_refused_and_at_the_edge_left_open():
    assert state("500 g whole milk", "2 g low acyl gellan", ph=2.2).sets[0] == NO
    assert state("500 g whole milk", "2 g low acyl gellan", ph=3.2).sets[0] == CANNOT_TELL
    assert state("500 g whole milk", "2 g low acyl gellan", ph=5.0).sets[0] == YES


def test_low_acyl_gellan_is_clear_and_brittle_and_high_acyl_cloudy_and_elastic():
    low = state("500 g whole milk", "2.5 g low acyl gellan")
    high = state("500 g whole milk", "2.5 g high acyl gellan")
    assert low.haze.value[0] < 0.15 < high.haze.value[0]
    assert low.gel.fracture_strain.value[0] < high.gel.fracture_strain.value[0] / 2
    assert firm(low) > 3 * firm(high)
    assert high.melt_c.value[0] - high.set_c.value[0] < 10
    assert high.weeps_pct.value[0] < low.weeps_pct.value[0]


# Gelatin. Trade facts: common practice, no source.


def test_gelatin_gets_firmer_overnight():
    soon = state(WATER, "15 g gelatin", steps=f"{BLOOMED}\nRest 1 h")
    late = state(WATER, "15 g gelatin", steps=f"{BLOOMED}\nRest 12 h")
    assert firm(late) > 1.2 * firm(soon)


def test_cold_hours_that_no_step_tells_leave_the_low_side_open():
    told = state(WATER, "15 g gelatin", steps=f"{BLOOMED}\nRest 20 h")
    untold = state(WATER, "15 g gelatin", steps=BLOOMED)
    assert firm(untold) == pytest.approx(firm(told), rel=1e-3)
    assert untold.gel.modulus.low[0] < told.gel.modulus.low[0]


def test_hours_above_the_setting_temperature_do_not_ripen_gelatin():
    warm = "Bloom the gelatin\nWarm to 60 °C, stirring\nCool to 35 °C\nRest 12 h\nChill to 4 °C"
    ripe = firm(state(WATER, "15 g gelatin", steps=f"{BLOOMED}\nRest 30 min"))
    assert firm(state(WATER, "15 g gelatin", steps=f"{warm}\nRest 30 min")) == pytest.approx(
        ripe, rel=0.1
    )


def test_gelatin_melts_in_the_mouth_and_agar_does_not():
    assert batch(WATER, "12 g gelatin", steps=BLOOMED).texture.melts_in_mouth[0] == YES
    assert batch(WATER, "6 g agar").texture.melts_in_mouth[0] == NO


@pytest.mark.parametrize("key", ["gelatin", "fish gelatin"])
def test_raw_pineapple_stops_gelatin_and_cooked_does_not(key):
    steps = "Bloom\nWarm to 60 °C, stirring\nChill to 0 °C"
    raw = state(WATER, "200 g pineapple", f"90 g {key}", steps=steps)
    canned = state(WATER, "200 g canned pineapple", f"90 g {key}", steps=steps)
    assert raw.sets[0] == NO
    assert canned.sets[0] != NO


def test_agar_breaks_sooner_than_kappa_with_iota():
    agar = batch("500 g whole milk", "4 g agar").texture
    pair = batch("500 g whole milk", "2 g kappa carrageenan", "2 g iota carrageenan").texture
    assert agar.gel.fracture_strain.value[0] < pair.gel.fracture_strain.value[0]


def test_strong_drink_stops_gelatin_and_a_splash_does_not():
    splash = state("400 g water", "60 g vodka", "15 g gelatin", steps=BLOOMED)
    half = state("500 g vodka", "15 g gelatin", steps=BLOOMED)
    assert need(splash, "alcohol").holds[0] == YES
    assert need(half, "alcohol").holds[0] == CANNOT_TELL
    assert need(half, "alcohol").need == "less than 30 % alcohol by volume"


def test_gelatin_sets_and_melts_warmer_with_more_of_it_and_with_more_bloom():
    thin, thick = (state(WATER, f"{grams} g gelatin", steps=BLOOMED) for grams in (8, 40))
    assert thick.set_c.value[0] > thin.set_c.value[0] + 3
    assert thick.melt_c.value[0] > thin.melt_c.value[0] + 3
    weak, strong = (
        state(WATER, f"15 g gelatin ({bloom} bloom)", steps=BLOOMED) for bloom in (125, 250)
    )
    assert strong.melt_c.value[0] > weak.melt_c.value[0] + 2
    assert firm(strong) > 1.5 * firm(weak)


@pytest.mark.parametrize(("ph", "weaker"), [(6.0, False), (3.0, True), (10.0, True)])
def test_gelatin_is_weaker_in_acid_and_in_alkali(ph, weaker):
    at_best = firm(state(WATER, "15 g gelatin", steps=BLOOMED, ph=7.0))
    found = firm(state(WATER, "15 g gelatin", steps=BLOOMED, ph=ph))
    assert (found < 0.9 * at_best) is weaker


def test_much_salt_weakens_gelatin():
    plain = state(WATER, "15 g gelatin", steps=BLOOMED)
    brine = state(WATER, "30 g salt", "15 g gelatin", steps=BLOOMED)
    assert firm(brine) < 0.95 * firm(plain)


def test_fish_gelatin_sets_only_in_the_cold_and_melts_in_a_cool_room():
    found = state(WATER, "55 g fish gelatin", steps=BLOOMED)
    assert 3 < found.set_c.value[0] < 8
    assert 11 < found.melt_c.value[0] < 17
    room = "Bloom the gelatin\nWarm to 60 °C, stirring\nCool to 15 °C"
    assert state(WATER, "55 g fish gelatin", steps=room).sets[0] == NO


# Konjac.


def test_konjac_alone_thickens_and_never_sets_below_alkali():
    for ph in (4.0, 6.5, 8.5):
        found = batch(WATER, "15 g konjac", ph=ph)
        assert found.texture.sets[0] == NO
        assert found.agents["konjac"].flow.at(50.0).value[0] > 0.05


def test_konjac_gels_for_good_in_alkali_and_heat():
    hot, cold = (
        state(WATER, "20 g konjac", ph=10.0, steps=steps)
        for steps in ("Stir in the konjac\nRest 2 h\nBoil 10 min", "Stir in the konjac\nRest 2 h")
    )
    assert hot.sets[0] == YES
    assert hot.melt_c is None
    assert cold.sets[0] != YES
    assert need(cold, "alkali").need == "pH 9 to 11"


# All of them.

ALL = (
    ("6 g agar", BOILED), ("2 g low acyl gellan", BOILED), ("2 g high acyl gellan", BOILED),
    ("15 g gelatin", BLOOMED), ("50 g fish gelatin", BLOOMED), ("15 g konjac", BOILED),
)  # fmt: skip


@pytest.mark.parametrize(("line", "steps"), ALL)
def test_every_state_says_how_it_looks_keeps_and_breaks_and_why(line, steps):
    found = state("500 g whole milk", line, steps=steps)
    assert 0 <= found.haze.low[0] <= found.haze.value[0] <= found.haze.high[0] <= 1
    assert 0 <= found.weeps_pct.low[0] <= found.weeps_pct.value[0] <= found.weeps_pct.high[0]
    assert found.frozen[0] in (YES, CANNOT_TELL, NO)
    for part in ("hydration", "gelling", "strength", "fracture", "look"):
        assert getattr(found.origins, part), part


@pytest.mark.parametrize(("line", "steps"), ALL)
def test_unknown_heat_leaves_the_verdict_open_and_breaks_nothing(line, steps):
    found = state("500 g whole milk", line, steps="")
    assert found.sets[0] != YES
    assert np.isfinite(found.gel.modulus.high).all()
