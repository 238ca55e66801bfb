"""Egg counts as cooked only when the written steps cook it."""

import pytest
from builders_engine import assess_of, codes

BASE = ("500 g whole milk", "100 g egg yolk")

COOKED = (
    "Whisk the yolks into the milk\nHeat to 85 °C, stirring constantly",
    "Heat everything to 75 °C, stirring constantly",
    "Boil 1 min",
    "Heat the milk to 90 °C\nWhisk in the egg yolks\nHeat to 82 °C, stirring constantly\nChill",
    # The middle is the coldest spot: nothing lags behind it.
    "Mix\nPour into cups\nBake until the core reads 72 °C\nChill",
    "Mix\nHeat over a water bath to 82 °C, stirring constantly",
    "Mix\nHeat to 82 °C, stirring constantly\nPour into cups\nBake at 95 °C for 20 min",
)
RAW = (
    "",
    "Chill",
    "Heat to 65 °C, stirring constantly",
    # An unstirred pot can be 14 °C cooler at the top.
    "Heat to 80 °C",
    "Heat the milk to 95 °C, stirring\nCool to 30 °C\nStir in the egg yolks\nChill",
    "Whisk the yolks with the sugar\nHeat the milk to 90 °C, stirring\nPour over the yolks\nChill",
    "Boil the milk\nCool to 20 °C\nFold in the yolks",
    "Preheat the oven to 180 °C\nMix\nChill",
    "Cook the sugar syrup to 121 °C\nPour the syrup over the yolks",
    "Serve at 80 °C",
    # An oven, a steamer or a bath is hotter than what stands in it.
    "Mix\nPour into cups\nBake at 100 °C for 20 min",
    "Mix\nSteam at 95 °C for 15 min",
    "Mix\nPour into cups\nBake until the core reads 68 °C\nChill",
    "Mix\nPour into cups\nBake at 110 °C with the core still liquid",
    "Mix\nCook in a water bath at 90 °C for 20 min, stirring constantly",
    "Mix\nMicrowave to 85 °C, stirring constantly",
)


@pytest.mark.parametrize("steps", COOKED)
def test_cooked(steps):
    found = assess_of(*BASE, steps=steps)
    assert "undercooked_egg" not in codes(found)
    assert "raw_egg" not in {caution.code for caution in found.cautions}


@pytest.mark.parametrize("steps", RAW)
def test_not_proven_cooked(steps):
    found = assess_of(*BASE, steps=steps)
    assert "undercooked_egg" in codes(found)
    assert {"raw_egg", "consumer_advisory"} <= {caution.code for caution in found.cautions}


@pytest.mark.parametrize(
    "line", ["100 g pasteurized egg yolk", "2 hard-boiled eggs", "20 g dried egg white powder"]
)
def test_egg_that_is_safe_as_written(line):
    assert "undercooked_egg" not in codes(assess_of("500 g water", line))


def test_an_oven_does_not_hydrate_the_agent():
    found = assess_of("500 g water", "5 g agar", steps="Preheat the oven to 180 °C\nStir")
    assert "heat_unknown" in codes(found)
    assert found.agents[0].hydrated_fraction is None


def test_a_simmer_without_a_number_is_not_taken_for_the_fridge():
    found = assess_of("500 g water", "5 g agar", steps="Simmer, stirring\nChill")
    assert "heat_unknown" in codes(found)
    assert "too_cool" not in codes(found)


def test_a_number_that_is_hot_stands_beside_a_simmer():
    found = assess_of("500 g water", "5 g agar", steps="Heat to 96 °C\nSimmer\nChill")
    assert "heat_unknown" not in codes(found)
    # Nobody told to stir it, so the top of the pot is some degrees cooler.
    assert found.agents[0].hydrated_fraction.value > 0.8


def test_egg_in_an_untold_simmer_is_not_proven_cooked():
    assert "undercooked_egg" in codes(assess_of(*BASE, steps="Simmer, stirring constantly\nChill"))
