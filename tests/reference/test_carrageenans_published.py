"""Kappa, iota and processed eucheuma against what is printed about their gels.

Each figure stands with its source and says whether a parameter was set with it ("used"), so that
it proves only the arithmetic, or not ("check"). A check is weaker than it looks where the anchor of
kappa, 20 kPa at 1 %, takes part: it is the middle of a printed range, but it was kept after a look
at the gel in 250 mmol/L NaCl and at the potassium gel test. Bounds that are wider than
the print were drawn around the model's result: they guard it against change and prove nothing.
"""

from unittest.mock import patch

import numpy as np
import pytest

from setwell import assess_many, catalog_build, formula_make
from setwell.engine.gelling.doubt import Corrections, prior, widen_ratio
from setwell.engine.gelling.kappa_firmness import KappaIons, ion_factor
from setwell.engine.gelling.models import AGENT_MODELS, agent_state
from setwell.engine.gelling.parameters import parameter
from setwell.engine.gelling.state import AgentInput, AgentState
from setwell.engine.material import Span
from setwell.engine.pipeline import batch_assess
from setwell.engine.plan import plan_build
from setwell.engine.spans import Spans
from setwell.provenance import Grade
from setwell.science.gels.cascade import cascade_conversion, cascade_modulus_three_sites
from setwell.science.gels.degradation import strength_molar_mass
from setwell.science.gels.syneresis import syneresis_share

KAPPA, IOTA, EUCHEUMA = "kappa_carrageenan", "iota_carrageenan", "processed_eucheuma"
ROOM = "Whisk in the powder\nBoil 2 min, stirring\nChill to 20 °C"
# Grams per mole (IUPAC 2021).
NACL, KCL, CACL2 = 58.443, 74.548, 110.98
# A plunger of 1 cm2 under 1 g presses with so many Pa.
PASCAL_PER_G_CM2 = 98.0665


def gels(key: str, *lines: tuple[str, object], steps: str = ROOM) -> AgentState:
    """Return one agent in batches whose lines hold these grams, one number or one for each."""
    grams = np.stack(np.broadcast_arrays(*(np.asarray(g, dtype=float) for _, g in lines)), axis=-1)
    text = "\n".join(f"1 g {name}" for name, _ in lines)
    formula = formula_make(title="Reference", ingredients=text, steps=steps)
    return assess_many(formula, np.atleast_2d(grams)).state.agents[key]


WATER, MILK = ("distilled water", 1000.0), ("whole milk", 1000.0)


# Clark and Ross-Murphy 1985, worked out from the equations for three sites. Check: exact.
@pytest.mark.parametrize(
    ("relative", "reduced"),
    [(1.5, 0.028245), (2, 0.139516), (3, 0.5625), (5, 1.873958), (10, 6.328125)],
)
def test_the_cascade_of_three_sites_gives_its_exact_modulus(relative, reduced):
    assert cascade_modulus_three_sites(relative) == pytest.approx(reduced, abs=6e-7)


@pytest.mark.parametrize("sites", [3, 4, 10])
def test_at_the_gel_point_one_site_in_f_less_one_is_bound(sites):
    # Same source, alpha_c = 1 / (f - 1); at three times the dose and f = 3 alpha is 2/3. Exact.
    assert cascade_conversion(1.0, functionality=sites) == pytest.approx(1 / (sites - 1))
    assert cascade_conversion(3.0, functionality=3) == pytest.approx(2 / 3)


# Sołowiej, Gustaw and Mleko, abstract: kappa sets 5 °C warmer at pH 8 than at pH 3. Used: slope.
def test_kappa_sets_five_degrees_warmer_from_ph_3_to_8():
    formula = formula_make(
        title="Any", ingredients="1000 g distilled water\n10 g kappa carrageenan", steps=ROOM
    )
    found = [_set_at(formula, ph) for ph in (3.0, 8.0)]
    assert found[1] - found[0] == pytest.approx(5.0, abs=1e-6)


def _set_at(formula, ph):
    plan = plan_build(formula, catalog=catalog_build(), parts={})
    state = batch_assess(plan, np.array([[1000.0, 10.0]]), measured_ph=Span(ph, ph, ph))
    return float(state.agents[KAPPA].set_c.value[0])


def at_rest(key: str, *lines: tuple[str, object]) -> AgentState:
    """Return one agent by its law alone, before what serving near the melting point takes."""
    caught: dict[str, AgentInput] = {}

    def keep(agent: AgentInput, corrections: Corrections) -> AgentState:
        caught[agent.key] = agent
        return agent_state(agent, corrections)

    with patch("setwell.engine.pipeline.agent_state", keep):
        gels(key, *lines)
    return AGENT_MODELS[key](caught[key])


def sodium_gel(millimolar: float) -> Spans:
    """Return the modulus in kPa of 0.6 % kappa in sodium chloride, with the doubt of the law."""
    salt = ("salt", NACL * millimolar / 1000)
    # A little more powder, so that 0.6 % is dissolved.
    found = at_rest(KAPPA, WATER, ("kappa carrageenan", 6.13), salt)
    assert found.effective_pct.value[0] == pytest.approx(0.6, rel=0.03)
    return widen_ratio(found.modulus, prior(found.doubt.strength)).scaled(1e-3)


def test_sodium_gel_of_50_millimoles():
    # Mixed gels of whey protein and kappa, paragraph on the gum alone: 0.6 %, 50 mmol/L NaCl,
    # 1.7 kPa. Used: sodium_full was fitted to it.
    assert sodium_gel(50).value[0] == pytest.approx(1.7, abs=0.1)


def test_sodium_gel_of_250_millimoles_falls_inside_the_range():
    # Same paragraph: 0.6 %, 250 mmol/L NaCl, 5.6 kPa. No parameter was fitted to it, but the
    # anchor of 20 kPa was kept after comparing with it: half a check. A known miss: the middle is
    # 3.3 kPa. The factor of two below only guards that.
    found = sodium_gel(250)
    assert found.low[0] < 5.6 < found.high[0]
    assert 5.6 / 2 < found.value[0] < 5.6


# J. Home Econ. Japan 39:1249 (1988), abstract, added KCl of the highest modulus. Used: the middle
# of the bell, 0.22; where it comes out with the gum's own ions is a check.
@pytest.mark.parametrize(("dose", "low", "high"), [(7.56, 0.2, 0.3), (15.25, 0.1, 0.4)])
def test_best_potassium_chloride_lies_in_the_printed_optimum(dose, low, high):
    added = np.linspace(0.0, 0.8, 81)
    found = gels(
        KAPPA, WATER, ("kappa carrageenan", dose), ("potassium chloride", KCL * added)
    ).modulus.value
    assert low <= added[found.argmax()] <= high
    # Same abstract: the modulus falls beyond.
    assert found[-1] < 0.8 * found.max()


def test_sodium_alone_has_no_optimum_like_that_of_potassium():
    # Same abstract: no comparable effect with NaCl. Check.
    added = np.linspace(0.05, 0.6, 12)
    salted = [gels(KAPPA, WATER, ("kappa carrageenan", 7.5), (name, mass * added)).modulus.value
              for name, mass in (("salt", NACL), ("potassium chloride", KCL))]  # fmt: skip
    assert (np.diff(salted[0]) > 0).all()
    assert salted[0][1] < 0.6 * salted[1][1]


@pytest.mark.parametrize("grams_per_liter", [5.0, 10.0])
def test_best_calcium_is_one_for_each_sulfate(grams_per_liter):
    # MacArtain, Jacquier and Dawson 2003, abstract: Na-kappa at 5 and 10 g/L, best with one
    # calcium per sulfate, weak beyond. Used: the optimum; that potassium and sodium of the gum do
    # not move it is a check.
    ratio = np.linspace(0.05, 4.0, 80)
    sulfate = grams_per_liter / 408.3
    zero = np.zeros_like(ratio)
    calcium = ratio * sulfate
    # As potassium, with the sodium counter-ions of the gum at their recalled activity of 0.55.
    cation = 0.3 * calcium + 0.05 * sulfate
    ions = KappaIons(*(np.stack([row] * 3) for row in (cation, zero + 0.55 * sulfate, ratio)))
    found = ion_factor(ions)[0]
    assert 0.8 <= ratio[found.argmax()] <= 1.3
    assert found[-1] < 0.8 * found.max()


def test_modulus_in_potassium_chloride_is_the_printed_one():
    # Dunstan et al. 2001, abstract: 10 to 30 kPa at 1 % over 0 to 0.2 mol/L KCl. Used: 20 kPa as
    # the middle at the best level. Check: the middle from 0.05 mol/L up, as far as the width of
    # the bell goes. A known miss: without any potassium chloride the middle is 3 kPa, softer than
    # all that is printed; 2 to 10 only guards that.
    salt = ("potassium chloride", KCL * np.array([0.0, 0.05, 0.1, 0.2]))
    found = at_rest(KAPPA, WATER, ("kappa carrageenan", 10.2), salt).modulus.value
    assert (found[1:] > 10e3).all()
    assert (found[1:] < 30e3).all()
    assert 2e3 < found[0] < 10e3


def test_widest_printed_moduli_fall_between_no_ions_and_the_best_mix():
    # Hermansson et al. 1991, abstract: 70 to 43 000 Pa as potassium and calcium vary. Used: the
    # range of the anchor holds 43 kPa. The sodium form without salt, 70 Pa, is out of reach: the
    # model assumes the potassium form.
    best = gels(KAPPA, WATER, ("kappa carrageenan", 10.1), ("potassium chloride", 0.2 * KCL))
    assert best.modulus.high[0] > 43e3


def test_local_power_of_the_dose_lies_in_the_printed_range():
    # Azevedo, Bernardo and Hilliou 2014, kappa, iota and hybrids in NaCl or KCl: power 1.2 to 3.2
    # of the dose. Check, from 0.8 % up: closer to the critical dose every cascade is steeper.
    dose = np.array([8.0, 8.1, 12.0, 12.1, 20.0, 20.2])
    for key, name in ((KAPPA, "kappa carrageenan"), (IOTA, "iota carrageenan")):
        found = gels(key, WATER, (name, dose), ("potassium chloride", 5.0))
        slope = np.diff(np.log(found.modulus.value)) / np.diff(np.log(dose))
        assert (slope[::2] > 1.2).all()
        assert (slope[::2] < 3.2).all()


@pytest.mark.parametrize(
    ("key", "low", "high"),
    # Gonçalves et al. 2025, abstract: at 1 % in 0.1 mol/L KCl no gel below 130 to 210 kDa
    # (kappa), up to 280 kDa (iota). Used: as they are; the texture of a lot does not use them.
    [(KAPPA, 130, 210), (IOTA, 280, 280)],
)
def test_short_chains_do_not_gel(key, low, high):
    known = parameter(key, "critical_molar_mass", "1 % in 0.1 mol/L KCl")
    assert (known.low, known.high) == (low, high)
    left = strength_molar_mass(
        [0.9 * low, 500.0], original_molar_mass=500.0, critical_molar_mass=known.value,
        exponent=1.5,
    )  # fmt: skip
    assert left.tolist() == [0.0, 1.0]


def test_kappa_sets_and_melts_in_the_printed_spans():
    # Table of hydrocolloids, 2018: kappa at 0.2 to 0.8 % sets at 30 to 60 °C and melts 10 to 20 °C
    # above. Check, from a little to much potassium; half a degree for the rounding of the table.
    # The gap is a miss at the low end: with 20 mmol/L of potassium it opens less than 10 °C. The
    # bounds of 6 and 22 °C are wider than the print and only guard that.
    salt = ("potassium chloride", KCL * np.array([0.02, 0.05, 0.1, 0.15]))
    found = gels(KAPPA, WATER, ("kappa carrageenan", 6.0), salt)
    sets, melts = found.set_c.value, found.melt_c.value
    assert (sets > 29.5).all()
    assert (sets < 60.5).all()
    gap = melts - sets
    # The recalled melting line opens wider with much potassium.
    assert 6 < gap[0] < gap[-1] < 22


def test_without_hysteresis_below_seven_millimoles():
    # Rochas and Rinaudo 1980, recalled: one curve below 7 (5 to 10) mmol/L. Used: anchor of both.
    found = gels(KAPPA, WATER, ("kappa carrageenan", [1.0, 3.0, 30.0]))
    gap = found.melt_c.value - found.set_c.value
    assert gap[:2] == pytest.approx(0.0, abs=1e-9)
    assert gap[2] > 3.0


def test_both_forms_of_the_setting_law_agree_at_their_anchors():
    # Luo et al. 2003: square root of the counter-ions, form only. Used: the same recalled anchors
    # as the line in 1/T, so that they agree at 7 and 100 mmol/L is arithmetic; between, a check.
    charges = 424.4 * 0.007 / 0.55
    found = gels(KAPPA, WATER, ("kappa carrageenan", [charges, 6.0, 6.0]),
                 ("potassium chloride", [0.0, KCL * 0.0925, KCL * 0.04]))  # fmt: skip
    gap = found.other_set.set_c.value - found.set_c.value
    assert gap[:2] == pytest.approx(0.0, abs=0.3)
    assert abs(gap[2]) < parameter(KAPPA, "setting_temperature_error").value


def test_iota_sets_in_the_printed_spans():
    # Table of hydrocolloids, 2018: 40 to 70 °C at 0.2 to 0.8 %, melting 5 to 10 °C above. Sołowiej
    # et al., abstract: 48 to 73 °C over several salts. Check: with 1 to 50 mmol/L of calcium.
    calcium = CACL2 * np.array([1.0, 5.0, 20.0, 50.0]) / 1000
    found = gels(IOTA, WATER, ("iota carrageenan", 6.0), ("anhydrous calcium chloride", calcium))
    assert (found.set_c.value > 40).all()
    assert (found.set_c.value < 73).all()
    gap = found.melt_c.value - found.set_c.value
    assert (gap >= 2).all()
    assert (gap <= 10).all()


def test_calcium_gives_the_stiffest_iota_and_moves_its_setting_most():
    # Bui et al. 2019, abstract: calcium rules iota; no preference among the others. Check.
    moles = 0.01
    salts = (("anhydrous calcium chloride", CACL2), ("potassium chloride", KCL), ("salt", NACL))
    with_calcium, with_potassium, with_sodium = (
        gels(IOTA, WATER, ("iota carrageenan", 8.0), (name, moles * mass)) for name, mass in salts
    )
    for other in (with_potassium, with_sodium):
        assert with_calcium.modulus.value[0] > 1.2 * other.modulus.value[0]
        assert with_calcium.set_c.value[0] > other.set_c.value[0] + 2
    same = with_potassium.modulus.value[0] / with_sodium.modulus.value[0]
    assert same == pytest.approx(1.0, abs=0.05)


def test_the_milk_gel_of_the_printed_dose_sets_and_is_about_tenfold():
    # Maker's page on milk protein: 0.20 % in a milk gel; about ten times the water gel. Used: the
    # tenfold (5 to 12), on top of the salts of milk. Check: that the printed dose surely sets in
    # milk, and not in water with the same potassium, sodium and free calcium.
    dose = ("kappa carrageenan", [2.0, 10.0])
    salts = (
        ("potassium chloride", KCL * 0.040),
        ("salt", NACL * 0.022),
        ("anhydrous calcium chloride", CACL2 * 0.0025),
    )
    milk, water = (at_rest(KAPPA, *lines, dose) for lines in ([MILK], [WATER, *salts]))
    assert 5 < milk.modulus.value[1] / water.modulus.value[1] < 12
    assert milk.effective_pct.low[0] > milk.critical_pct.high[0]
    assert water.effective_pct.low[0] < water.critical_pct.high[0]


def potassium_gel_test(key: str, name: str) -> AgentState:
    """Return the gel of the trade test: 1.5 % with 0.2 % KCl at 20 °C."""
    salt = ("potassium chloride", 2.0)
    return gels(key, ("distilled water", 983.0), (name, 15.0), salt)


# Pressure under a plunger when it breaks in, over the fracture stress in compression: 2.8, from
# 1.5 to 4.5 (recalled, no source seen).
PENETRATION = (1.5, 2.8, 4.5)


def test_potassium_gel_test_overlaps_the_refined_grade():
    # Supplier sheets: refined kappa, 1200 to 1800 g/cm2. No parameter was fitted to it, but the
    # anchor of 20 kPa was kept after comparing with it, and the plunger factor is recalled: half a
    # check.
    stress = potassium_gel_test(KAPPA, "kappa carrageenan").gel.fracture_stress
    low, middle, high = (
        float(part[0]) * factor / PASCAL_PER_G_CM2
        for part, factor in zip((stress.low, stress.value, stress.high), PENETRATION, strict=True)
    )
    assert low < 1200
    assert high > 1800
    # A known miss: the middle is about 870 g/cm2. The factor of three only guards that.
    assert 1200 / 3 < middle < 1200


def test_semi_refined_powder_is_as_much_weaker_as_on_the_sheets():
    # Supplier sheets: semi-refined, 400 to 500 g/cm2. Used: strength_factor.
    refined = potassium_gel_test(KAPPA, "kappa carrageenan").gel.fracture_stress.value[0]
    plain = potassium_gel_test(EUCHEUMA, "processed eucheuma").gel.fracture_stress.value[0]
    assert 400 / 1800 < plain / refined < 500 / 1200


def test_syneresis_runs_at_the_printed_rates():
    # Ako 2017, abstract: 0.2 % in 40 mmol/L KCl, 0.035 per hour and 0.07 to 0.33 per hour. Used:
    # as they are. With either rate alone the loose water falls by e in its own time.
    slow = parameter(KAPPA, "syneresis_shrink_rate", "2 g/L, 40 mmol/L KCl")
    quick = parameter(KAPPA, "syneresis_yield_rate", "soft to stiff gel")
    assert (slow.value, quick.low, quick.high) == (0.035, 0.07, 0.33)
    for rate, share in ((slow.value, 1.0), (quick.value, 0.0)):
        left = 1 - syneresis_share(1 / rate, shrink_rate=slow.value, yield_rate=quick.value,
                                   shrink_share=share)  # fmt: skip
        assert left == pytest.approx(np.exp(-1))


def test_sugar_makes_kappa_hard_and_fragile():
    # Sołowiej et al., abstract: 30 % sucrose gives hard but fragile gels. Used: the direction; the
    # size is our own judgment. The salt is kept per water.
    plain = gels(KAPPA, WATER, ("kappa carrageenan", 10.0), ("potassium chloride", 5.0))
    sweet = gels(KAPPA, ("distilled water", 700.0), ("sugar", 300.0), ("kappa carrageenan", 10.0),
                 ("potassium chloride", 3.5))  # fmt: skip
    assert sweet.gel.fracture_stress.value[0] > plain.gel.fracture_stress.value[0]
    assert sweet.gel.fracture_strain.value[0] < plain.gel.fracture_strain.value[0]


def test_what_was_recalled_is_graded_so():
    for name, conditions in (
        ("setting_root_slope", ""),
        ("weeping", "1 % gel at the best potassium, in the long run"),
        ("setting_line_slope", ""),
    ):
        assert parameter(KAPPA, name, conditions).citation.grade is Grade.UNVERIFIED
