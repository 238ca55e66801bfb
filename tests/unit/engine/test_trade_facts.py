"""What the trade knows of its powders, asked of the assessment in kitchen lines.

Every fact here is common practice, no source. That 85 °C is enough and that brown powder is weaker
was also used to set the tables, so those tests guard the model; for the others no parameter was
fitted to these cups. Sizes in the bounds are our own.
"""

import pytest
from builders_engine import assess_of, codes, finding_of

from setwell.engine.assessment import AgentResult, Assessment, Verdict

MILK, WATER, SUGAR = "500 g whole milk", "500 g distilled water", "30 g sugar"
KAPPA, IOTA, LAMBDA = "kappa carrageenan", "iota carrageenan", "lambda carrageenan"
MIXED = "Mix the powder with the sugar, dry\nWhisk into the cold milk\n"
CHILLED = "\nChill to 4 °C"


def cooked(*lines: str, heat: str = "Boil 2 min, stirring") -> Assessment:
    return assess_of(*lines, steps=f"{MIXED}{heat}{CHILLED}")


def only(found: Assessment) -> AgentResult:
    (agent,) = found.agents
    return agent


def stress(found: Assessment) -> float:
    return found.texture.fracture_stress_kpa.value


def strain(found: Assessment) -> float:
    return found.texture.fracture_strain.value


# Which carrageenan does what.


def test_kappa_splits_and_iota_compresses():
    kappa, iota = (cooked(MILK, SUGAR, f"2.5 g {name}") for name in (KAPPA, IOTA))
    assert kappa.texture.sets is iota.texture.sets is Verdict.YES
    assert kappa.texture.region == "brittle"
    assert iota.texture.region == "elastic"
    assert strain(iota) > 2 * strain(kappa)
    # It gives way under less, and further.
    assert stress(iota) < stress(kappa) / 3


def test_lambda_thickens_hot_milk_without_a_cook_and_never_gels():
    steps = (
        "Mix the powder with the sugar\nHeat the milk to 70 °C\n"
        "Pour the hot milk over the powder, whisking\nServe at 20 °C"
    )
    found = only(assess_of(MILK, SUGAR, f"1.5 g {LAMBDA}", steps=steps))
    plain = only(assess_of(MILK, SUGAR, f"0.01 g {LAMBDA}", steps=steps))
    assert found.hydrates is Verdict.YES
    assert found.sets is Verdict.NO
    assert found.modulus_kpa is None
    assert found.viscosity_mpa_s.low > 3 * plain.viscosity_mpa_s.value


@pytest.mark.parametrize("grams", [1, 5, 15])
def test_no_dose_of_lambda_and_no_boil_makes_a_gel(grams):
    assert cooked(MILK, SUGAR, f"{grams} g {LAMBDA}").texture.sets is Verdict.NO


def test_lambda_keeps_building_for_a_while():
    thick = [
        only(
            assess_of(MILK, f"1.5 g {LAMBDA}",
                      steps=f"Blend in the powder\nRest {minutes} min at 20 °C\nServe at 20 °C")
        ).viscosity_mpa_s.value
        for minutes in (5, 40, 90)
    ]  # fmt: skip
    assert thick[0] < thick[1] <= thick[2]
    # Ever slower.
    assert (thick[2] - thick[1]) / 50 < (thick[1] - thick[0]) / 35


def test_kappa_with_iota_tunes_between_brittle_and_soft():
    blends = [
        cooked(MILK, SUGAR, f"{grams} g {KAPPA}", f"{2.5 - grams} g {IOTA}")
        for grams in (0.75, 1.25, 1.75, 2.25)
    ]
    stiff = [found.texture.modulus_kpa.value for found in blends]
    bend = [strain(found) for found in blends]
    assert stiff == sorted(stiff)
    assert bend == sorted(bend, reverse=True)
    alone = [cooked(MILK, SUGAR, f"2.5 g {name}") for name in (KAPPA, IOTA)]
    assert strain(alone[0]) < min(bend)
    assert max(bend) < strain(alone[1])


def test_agar_is_more_brittle_than_kappa_with_iota():
    agar = cooked(MILK, SUGAR, "4 g agar", heat="Boil 5 min, stirring")
    blend = cooked(MILK, SUGAR, f"1.25 g {KAPPA}", f"1.25 g {IOTA}")
    assert agar.texture.sets is blend.texture.sets is Verdict.YES
    assert strain(agar) < 0.75 * strain(blend)


# Heat.


def test_85_degrees_through_the_whole_batch_is_enough_and_a_boil_does_no_harm():
    warm, boiled = (
        cooked(MILK, SUGAR, f"2.5 g {KAPPA}", heat=heat)
        for heat in ("Heat to 85 °C, hold 2 min, stirring constantly", "Boil 5 min, stirring")
    )
    assert only(warm).hydrates is only(boiled).hydrates is Verdict.YES
    assert boiled.texture.modulus_kpa.value >= 0.95 * warm.texture.modulus_kpa.value


def uneven(grams: float) -> tuple[Assessment, Assessment]:
    """Return a stirred pot, and one with 85 °C at the bottom and 71 °C at the top."""
    stirred, still = (
        cooked(MILK, SUGAR, f"{grams} g {KAPPA}", heat=f"Heat to 85 °C{how}")
        for how in (", stirring constantly", " without stirring")
    )
    return stirred, still


@pytest.mark.parametrize("grams", [0.9, 1.5, 2.5])
def test_a_top_that_stays_at_71_takes_dose_and_strength_away(grams):
    stirred, still = uneven(grams)
    top = only(still).gel.zones[-1]
    assert (top.zone, only(still).hydrates) == ("top", Verdict.CANNOT_TELL)
    assert top.share < 0.5
    assert only(still).hydrated_fraction.value < 0.8 * only(stirred).hydrated_fraction.value
    assert stress(still) < 0.6 * stress(stirred)


def test_a_top_that_stays_at_71_gives_a_spread_and_not_a_slice():
    # At a spare dose, found with this program. A limit of the model: at 0.5 % it still calls the
    # uneven pot a slice.
    stirred, still = uneven(1.0)
    assert stirred.texture.sets is Verdict.YES
    assert still.texture.sets is Verdict.CANNOT_TELL
    assert (stirred.texture.region, still.texture.region) == ("tender", "spreadable")
    assert uneven(2.5)[1].texture.region == "brittle"


def test_the_whole_pot_at_71_is_refused():
    found = cooked(MILK, SUGAR, f"2.5 g {KAPPA}", heat="Heat to 71 °C, stirring constantly")
    assert only(found).hydrates is Verdict.NO
    assert found.texture.sets is not Verdict.YES


@pytest.mark.parametrize("name", [KAPPA, IOTA])
def test_rich_bases_begin_to_set_near_71_and_the_water_law_stands_beside_it(name):
    rich = ("250 g heavy cream", "250 g whole milk", SUGAR, f"2.5 g {name}")
    found = only(cooked(*rich))
    assert found.practice_set_c.value == pytest.approx(71, abs=1)
    assert found.set_temperature_c.value < 65
    assert found.practice_note


def test_a_control_cup_of_water_tells_good_powder():
    steps = "Whisk in the powder\nBoil 2 min, stirring\n"
    cup = ("100 g water", f"1 g {KAPPA}")
    assert assess_of(*cup, steps=f"{steps}Chill to 4 °C").texture.sets is Verdict.YES
    # In a warm room the law of plain water is not sure of it: a limit of the model.
    warm = assess_of(*cup, steps=f"{steps}Cool to 20 °C")
    assert warm.texture.sets is Verdict.CANNOT_TELL


# Powder and water.


@pytest.mark.parametrize("name", [KAPPA, "xanthan", "guar gum"])
def test_powder_that_goes_in_dry_clumps(name):
    rest = "Boil 2 min, stirring\nChill" if name == KAPPA else "Rest 20 min\nServe at 20 °C"
    tipped = assess_of(WATER, f"2.5 g {name}", steps=f"Tip the powder into the water\n{rest}")
    apart = assess_of(
        WATER, f"2.5 g {name}", SUGAR, steps=f"Mix the powder with the sugar\nWhisk in\n{rest}"
    )
    whole, best = (only(found).hydrated_fraction for found in (tipped, apart))
    assert whole.value < best.value - 0.01
    assert whole.low < best.low - 0.05
    assert finding_of(tipped, "clumps").action
    assert "clumps" not in codes(apart)


def test_powder_clumps_worse_in_hot_liquid():
    heat = "Heat to 90 °C, hold 2 min, stirring\nChill"
    cold, hot = (
        only(assess_of(WATER, f"2.5 g {KAPPA}", steps=f"{first}\n{heat}"))
        for first in (
            "Tip the kappa carrageenan into the water",
            "Heat the water to 80 °C\nAdd the powder",
        )
    )
    assert hot.hydrated_fraction.value < 0.9 * cold.hydrated_fraction.value


def test_powder_sprinkled_by_hand_clumps_more_than_in_sugar_and_less_than_dumped():
    # Common practice, no source.
    heat = "Heat to 90 °C, hold 2 min, stirring\nChill"
    sugar, sprinkled, dumped = (
        only(assess_of(WATER, f"2.5 g {KAPPA}", steps=f"{first}\n{heat}")).hydrated_fraction
        for first in (
            "Disperse the powder in the sugar",
            "Sprinkle the powder into the water",
            "Tip the kappa carrageenan into the water",
        )
    )
    assert sugar.value > sprinkled.value > dumped.value
    assert sprinkled.low < sugar.low


def test_less_refined_powder_needs_more_and_is_cloudier():
    white = cooked(MILK, SUGAR, f"2 g {KAPPA}")
    brown = cooked(MILK, SUGAR, "2 g processed eucheuma")
    assert brown.texture.modulus_kpa.value < 0.5 * white.texture.modulus_kpa.value
    more = cooked(MILK, SUGAR, "4 g processed eucheuma")
    assert more.texture.modulus_kpa.value > white.texture.modulus_kpa.value
    clear = [
        assess_of(WATER, f"4 g {name}", "1 g potassium chloride", steps="Boil 5 min\nChill")
        for name in (KAPPA, "processed eucheuma")
    ]
    assert clear[0].texture.clarity != clear[1].texture.clarity


# Acid.


@pytest.mark.parametrize("name", [KAPPA, IOTA])
def test_ph_3_7_is_no_place_for_kappa_and_iota(name):
    # The grams of acid were found with this program; the pH is asserted.
    lines = ("1000 g distilled water", "2 g potassium chloride", f"8 g {name}")
    acid = "0.115 g citric acid"
    late = "Boil 2 min, stirring\nCool to 60 °C\nAdd the citric acid\nChill to 4 °C"
    mild = assess_of(*lines, steps="Boil 2 min, stirring\nChill to 4 °C")
    sour = assess_of(*lines, acid, steps=late)
    worst = assess_of(*lines, acid, steps="Add the citric acid\nBoil 15 min, stirring\nChill")
    assert sour.figure("ph").estimate.value == pytest.approx(3.7, abs=0.1)
    assert mild.texture.sets is Verdict.YES
    assert sour.texture.sets is not Verdict.YES
    assert "too_acid" in codes(sour)
    assert "acid_hot" in codes(worst)
    assert stress(worst) < stress(sour) < 0.8 * stress(mild)


# In the place of gelatin.


def test_plant_powder_in_the_place_of_gelatin_wants_heat_and_no_bloom():
    as_gelatin = "Bloom the powder in cold water\nWarm to 60 °C, stirring\nChill to 4 °C\nRest 12 h"
    lines = (MILK, f"4 g {KAPPA}", f"4 g {IOTA}")
    wrong = assess_of(*lines, steps=as_gelatin)
    right = assess_of(*lines, steps="Whisk in\nHeat to 90 °C, hold 2 min, stirring\nChill to 4 °C")
    gelatin = assess_of(MILK, "8 g gelatin", steps=as_gelatin.replace("powder", "gelatin"))
    assert wrong.texture.sets is Verdict.NO
    assert all(agent.hydrates is Verdict.NO for agent in wrong.agents)
    assert right.texture.sets is gelatin.texture.sets is Verdict.YES
    # Weight for weight it sets at least as firm, and does not melt in the mouth.
    assert right.texture.modulus_kpa.value > gelatin.texture.modulus_kpa.value
    assert (right.texture.melts_in_mouth, gelatin.texture.melts_in_mouth) == (
        Verdict.NO,
        Verdict.YES,
    )
