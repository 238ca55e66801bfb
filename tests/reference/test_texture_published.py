"""The texture models, through the assessment, against figures no other reference test compares.

Beside each number stand its source and locator, and "Used to set <parameter>" or "Not used". A
"table check" reads a row back as printed and checks no model. A "known miss" states what the model
does beside what was published; when the model gets better, that test fails and has to be rewritten.
"""

import math
import re

import numpy as np
import pytest

from setwell import Assessment, assess, assess_many, formula_make
from setwell.engine.assessment import Verdict
from setwell.engine.gelling.parameters import parameter
from setwell.engine.spans import Spans
from setwell.engine.texture import TextureState
from setwell.science.gels.degradation import molar_mass_scission
from setwell.tables.agents import agent_rows
from setwell.tables.rules import swallowing_bands

KAPPA, IOTA = "kappa carrageenan", "iota carrageenan"
BOILED = "Whisk in the powder\nBoil 5 min, stirring\nChill overnight at 4 °C\nServe at 20 °C"
COCOA = (
    "Mix the kappa with the sugar and cocoa, dry\nWhisk into the milk\n"
    "Heat to 90 °C, hold 2 min, stirring\nChill to 4 °C"
)
# Grams per mole (iupac_2021).
KCL, NACL, CACL2 = 74.548, 58.443, 110.98


def of(*lines: str, steps: str = BOILED, **fields: object) -> Assessment:
    text = "\n".join(lines)
    return assess(formula_make(title="Reference", ingredients=text, steps=steps, **fields))


def many(*lines: tuple[str, object], steps: str = BOILED):
    """Return the batch state of lines whose grams may be one number or one for each cup."""
    grams = np.stack(np.broadcast_arrays(*(np.asarray(g, dtype=float) for _, g in lines)), axis=-1)
    text = "\n".join(f"1 g {name}" for name, _ in lines)
    formula = formula_make(title="Reference", ingredients=text, steps=steps)
    return assess_many(formula, np.atleast_2d(grams)).state


def bounds(spans: Spans, row: int = 0) -> tuple[float, float]:
    return float(spans.low[row]), float(spans.high[row])


# Carrageenan gels.


def test_kappa_in_the_pot_is_stiffest_near_one_calcium_for_each_sulfate():
    # macartain_2003, abstract: one calcium per sulfate at 10 g/L; own arithmetic makes that 24.5
    # (19 to 32) mmol/L of added CaCl2 for the sodium form. Used to set
    # calcium_per_sulfate_at_best_modulus; that hydration, free calcium and the powder's own ions
    # leave it there is what is tested.
    added = np.linspace(0.0, 0.08, 161)
    cups = many(("distilled water", 1000.0), (KAPPA, 10.1),
                ("anhydrous calcium chloride", CACL2 * added))  # fmt: skip
    stiff = cups.texture.gel.modulus.value
    assert 0.019 <= added[stiff.argmax()] <= 0.032
    assert stiff[-1] < 0.9 * stiff.max()


def test_the_gel_that_sets_at_36_8_degrees_melts_within_the_range_at_51_2():
    # yang_2018, abstract: without sucrose it sets at 36.8 and melts at 51.2 °C; its salt is not
    # told, so it is looked for here. Not used: both lines go through recalled anchors. The middle,
    # 45.9 °C, is 5 below.
    added = np.linspace(0.0, 0.08, 801)
    agent = many(("distilled water", 1000.0), (KAPPA, 10.0),
                 ("potassium chloride", KCL * added)).agents["kappa_carrageenan"]  # fmt: skip
    at = np.abs(agent.set_c.value - 36.8).argmin()
    low, high = bounds(agent.melt_c, at)
    assert low < 51.2 < high
    assert 0 < 51.2 - agent.melt_c.value[at] < 7


@pytest.mark.parametrize("grams_per_liter", [0.15, 0.2, 0.25, 0.3])
def test_doses_that_only_hold_cocoa_or_whey_never_set(grams_per_liter):
    # fmc_milk_protein, text on doses: 0.02 % holds cocoa in milk. cybercolloids_milk, text on
    # doses: 150 to 250 ppm keep whey in. Not used: the critical dose in milk is recalled.
    # A known gap: the weak network that does this is not computed; the model gives no thickness.
    lines = ("920 g whole milk", "60 g sugar", "20 g cocoa powder", f"{grams_per_liter} g {KAPPA}")
    found = of(*lines, steps=COCOA)
    (kappa,) = found.agents
    assert kappa.hydrates is Verdict.YES
    assert kappa.sets is Verdict.NO
    assert kappa.modulus_kpa is None
    assert kappa.viscosity_mpa_s is None


def iota_added(ratio, *, kappa_g: float, potassium_mmol: float) -> TextureState:
    return many(
        ("distilled water", 1000.0), (KAPPA, kappa_g), (IOTA, kappa_g * ratio),
        ("potassium chloride", KCL * potassium_mmol / 1000),
    ).texture  # fmt: skip


@pytest.mark.parametrize("kappa_g", [5.0, 7.5, 10.0])
@pytest.mark.parametrize("potassium_mmol", [75.0, 150.0])
def test_iota_added_to_a_fixed_kappa_has_a_least_and_no_most_modulus(kappa_g, potassium_mmol):
    # brenner_2014, abstract: with kappa fixed, the modulus has a weak maximum at iota to kappa
    # near 1 (0.8 to 1.3). Not used. A known miss, with the wrong sign: the model first falls a
    # little, is least near 0.7 to 1.1, and rises from there without end.
    ratio = np.linspace(0.05, 3.0, 60)
    stiff = iota_added(ratio, kappa_g=kappa_g, potassium_mmol=potassium_mmol).gel.modulus.value
    inner = stiff[1:-1]
    peaks = ratio[1:-1][(inner > stiff[:-2]) & (inner > stiff[2:])]
    assert peaks.size == 0
    assert stiff.argmax() == len(ratio) - 1
    assert 0.6 <= ratio[stiff.argmin()] <= 1.2
    # How weak the printed maximum is, the abstract does not say; the dip is up to a fifth.
    assert 0.8 < stiff.min() / stiff[0] < 1.0


def test_the_softest_printed_kappa_is_far_below_the_middle():
    # hermansson_1991, abstract: 70 Pa at the softest, potassium and calcium varied. Not used. A
    # known miss: the powder is taken to be in the potassium form, so 1 % without any salt makes
    # 3.1 kPa at rest. The range reaches nothing because such a gel may be close to melting.
    cup = many(("distilled water", 1000.0), (KAPPA, 10.1)).agents["kappa_carrageenan"]
    assert cup.modulus.value[0] > 20 * 70.0
    assert bounds(cup.modulus)[0] == 0.0


def test_lengths_of_chains_by_the_most_probable_distribution():
    # Own arithmetic on w(<m) = 1 - (1 + x) exp(-x), x = 2 m / Mw, for the limit of eu_231_2012, E
    # 407 (recalled): at Mw 500 kDa 1.75 % lies below 50 kDa. Not used; the texture of a lot knows
    # nothing of this. The function is that of breaking chains, with no breaks.
    number = float(molar_mass_scission(250.0, 0.0, unit_molar_mass=0.4))
    x = 50.0 / number
    assert 100 * (1 - (1 + x) * math.exp(-x)) == pytest.approx(1.75, abs=0.005)


@pytest.mark.parametrize("key", ["kappa_carrageenan", "iota_carrageenan", "lambda_carrageenan"])
@pytest.mark.parametrize(
    ("name", "printed", "source"),
    [
        ("us_sulfate", "20 to 40 %", "cfr_21"),  # section 172.620
        ("eu_sulfate", "15 to 40 %", "eu_231_2012"),  # E 407
        ("eu_viscosity", "at least 5 mPa·s at 1.5 % and 75 °C", "eu_231_2012"),  # E 407
        ("eu_short_chains", "at most 5 % below 50 kDa", "eu_231_2012"),  # E 407, recalled
        ("food_grade", "10 to 20 kDa", "efsa_2018"),  # definition of poligeenan
        ("jecfa_adi", "not specified", "jecfa_2014"),  # 79th meeting
        ("efsa_status", "75 mg per kg body weight", "efsa_2018"),  # figure recalled
        ("infant_formula", "1000 mg/L", "jecfa_2014"),  # 79th meeting
    ],
)
def test_limits_of_the_food_law_are_as_printed(key, name, printed, source):
    # Table check. Sets no parameter of a texture model.
    row = agent_rows()[key].regulation[name]
    assert printed in row.text
    assert row.citation.source == source


@pytest.mark.parametrize(
    ("key", "is_within"),
    [("kappa_carrageenan", True), ("iota_carrageenan", True), ("lambda_carrageenan", False)],
)
def test_pure_carrageenans_keep_their_sulfate_within_the_law_but_lambda(key, is_within):
    # cfr_21, section 172.620: 20 to 40 %. From the ideal repeat (iupac_2021): kappa 23.5, iota
    # 37.6, lambda 45.7 %. Table check. Pure lambda would be over; what is sold is less pure.
    figure = agent_rows()[key].figure("sulfate", "sodium form, as SO4")
    assert (20 <= figure.value <= 40) is is_within


# Lambda.


def specific_viscosity(percent: float, salt_mmol: float) -> float:
    """Return what lambda adds at rest over the liquid, at 25 °C, all of it dissolved."""
    grams = 1000.0 * percent / (100.0 - percent)
    lines = [("distilled water", 1000.0), ("lambda carrageenan", grams)]
    if salt_mmol:
        lines.append(("salt", NACL * salt_mmol / 1000))
    agent = many(*lines, steps="Blend in the powder\nBoil 30 min, stirring\nServe at 25 °C").agents[
        "lambda_carrageenan"
    ]
    return float(agent.flow.added.value[0, 0] / agent.flow.base[0])


@pytest.mark.parametrize("percent", [0.02, 0.05])
def test_salted_lambda_thickens_as_its_intrinsic_viscosity_says(percent):
    # rivera_2017, abstract: 14.7 dL/g in 20 mmol/L sodium at 25 °C, so that a dilute liquid is
    # thicker by about 14.7 times its dose. Not used: the law goes by the overlap dose. It is
    # quoted as within a factor of 4, and comes within 2.
    ratio = specific_viscosity(percent, 20.0) / (14.7 * percent)
    assert 0.5 < ratio < 2.0


@pytest.mark.parametrize("percent", [0.02, 0.05, 0.1])
def test_lambda_without_salt_comes_out_too_thin_when_dilute(percent):
    # rivera_2017, abstract: 204 dL/g without added sodium. Not used. A known miss: below the
    # overlap at 0.21 % the law gives a fifth to a tenth of what that asks for.
    ratio = specific_viscosity(percent, 0.0) / (204 * percent)
    assert 0.05 < ratio < 0.25


# Gelatin.

BLOOMED = "Bloom the gelatin 30 min\nWarm to 60 °C, hold 10 min, stirring\nCool to 10 °C\nRest 17 h"


def gelatin(line: str, water: str) -> Assessment:
    return of(water, line, steps=BLOOMED, serving_temperature_c=10.0)


def by_bloom(percent: float, bloom: float):
    water = f"{1000 - 10 * percent:g} g distilled water"
    found = gelatin(f"{10 * percent:g} g gelatin ({bloom:g} bloom)", water)
    return found.texture.modulus_kpa


@pytest.mark.parametrize(
    ("dose", "bloom", "wanted", "printed"), [(2, 250, 200, 2.236), (1.5, 225, 160, 1.779)]
)
def test_a_handbook_swap_of_gelatin_makes_the_same_gel(dose, bloom, wanted, printed):
    # gmia_2012, rule of equivalence, C1 sqrt(B1) = C2 sqrt(B2); doses worked out by hand. Used as
    # one end of bloom_exponent (1.85, to 2); the threshold beside it was not drawn from the rule.
    one, other = by_bloom(dose, bloom), by_bloom(printed, wanted)
    assert other.value == pytest.approx(one.value, rel=0.15)


def test_a_handbook_swap_right_above_the_critical_dose_makes_a_softer_gel():
    # The same rule, 1 % of 200 for 0.894 % of 250 g Bloom. A known miss: so close to the critical
    # dose (0.5 %, recalled) the model gives the smaller dose a quarter less.
    one, other = by_bloom(1.0, 200), by_bloom(0.894, 250)
    assert 0.65 < other.value / one.value < 0.85
    assert other.high > one.value > other.low


def test_the_linear_swap_makes_a_much_firmer_gel():
    # C1 B1 = C2 B2, own arithmetic: 1.5 % of 225 for 2.109 % of 160 g Bloom. Not used. A known
    # miss of the sheet rule: the model follows the square root.
    one, other = by_bloom(1.5, 225), by_bloom(2.109, 160)
    assert 1.5 < other.value / one.value < 1.8


def test_sheets_of_all_grades_do_not_set_alike():
    # sheet_gelatin_2012, list of grades: bronze 3.3, silver 2.5, gold 2.0, platinum 1.7 g a sheet,
    # for the same set per sheet. Mass and Bloom set the lines, not the firmness. A known miss:
    # eight sheets in half a liter come out 1.9 times as firm in bronze as in platinum; silver for
    # gold, the common swap, is 1.2 times, and all ranges overlap.
    firm = {
        grade: gelatin(f"8 sheets {grade} gelatin", "500 g distilled water").texture.modulus_kpa
        for grade in ("bronze", "silver", "gold", "platinum")
    }
    values = [one.value for one in firm.values()]
    assert values == sorted(values, reverse=True)
    assert firm["silver"].value / firm["gold"].value == pytest.approx(1.18, abs=0.1)
    assert firm["bronze"].value / firm["platinum"].value == pytest.approx(1.9, abs=0.2)
    assert max(one.low for one in firm.values()) < min(one.high for one in firm.values())


# Liquids.


def test_water_as_a_reference_liquid_of_the_rheometer():
    # Food Hydrocolloids 79:208 (2018), table 3: water 1.015 mPa·s at 50 1/s and 25 °C; pure water
    # is 0.890. Not used. A trace of gum, so that there is a flow curve.
    cup = many(("distilled water", 1000.0), ("gum arabic", 0.001), steps="Stir\nServe at 25 °C")
    found = 1000 * float(cup.texture.flow.at(50.0).value[0])
    assert found == pytest.approx(1.015, rel=0.15)


def test_cream_comes_out_far_thinner_than_the_printed_comparison():
    # cichero_2013, table 1: whipping cream 100 mPa·s, "reported", without shear rate, fat or
    # temperature. Not used. A known miss, or another cream: the model gives 5 to 15 mPa·s.
    cup = many(("heavy cream", 1000.0), ("gum arabic", 0.001), steps="Stir\nServe at 20 °C")
    assert 5 < 1000 * float(cup.texture.flow.at(50.0).value[0]) < 15


@pytest.mark.parametrize(("level", "low", "high"), [("3", 8, 10), ("4", 10, 10)])
def test_the_thickest_levels_leave_all_in_a_syringe_of_61_5_millimeters(level, low, high):
    # Table check. iddsi_2019, flow test and definitions (level 4 recalled): at level 4 nothing
    # flows, 10 mL stay; the scale of 10 mL is 61.5 mm long. No model computes a level.
    (band,) = [b for b in swallowing_bands() if (b.scale, b.level) == ("iddsi", level)]
    assert (band.low, band.high, band.unit) == (low, high, "mL")
    assert "61.5 mm" in band.conditions


@pytest.mark.parametrize("grams", [1, 3, 8])
def test_no_assessment_tells_a_swallowing_level(grams):
    # Our own rule: Food Hydrocolloids 79:208 (2018), table 3, has one level in two ranges of
    # viscosity and three levels in one range, so no viscosity may be told as a level.
    found = of("500 g water", f"{grams} g xanthan")
    told = repr((found.texture, found.agents, found.solution, found.findings)).casefold()
    # The caution names the syringe test, and that a trained person does it.
    warned = " ".join(caution.text for caution in found.cautions)
    for text in (told, warned.casefold()):
        assert not re.search(r"\blevel \d", text)
        assert not any(b.name in text for b in swallowing_bands() if b.scale == "ndd" and b.low > 1)
    assert "iddsi" not in told


def test_the_optimum_of_the_transition_heat_is_only_kept():
    # Table check. home_economics_1988, abstract: 0.1 to 0.3 mol/L KCl at 0.75 %. No model computes
    # the heat of the transition, so nothing can be compared.
    row = parameter("kappa_carrageenan", "optimum_potassium_heat", "0.75 % gel")
    assert (row.low, row.high) == (0.1, 0.3)
