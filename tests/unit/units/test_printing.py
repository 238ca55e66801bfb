import math

import pytest

from setwell.units import mass_print, percent_print, volume_print


@pytest.mark.parametrize(
    ("grams", "printed"),
    [
        (0.35, "0.35 g"), (12.5, "12.5 g"), (350, "350 g"), (1250, "1.25 kg"), (999.7, "1 kg"),
        (0.004, "4 mg"), (0, "0 g"), (0.0312, "0.031 g"), (-3, "-3 g"), (math.nan, "unknown"),
        (1234.4, "1.234 kg"),
    ],
)  # fmt: skip
def test_mass_is_printed_to_what_a_scale_shows(grams, printed):
    assert mass_print(grams) == printed


@pytest.mark.parametrize(
    ("grams", "printed"),
    [
        (350, "350 g (12.3 oz)"), (1250, "1.25 kg (2 lb 12.1 oz)"), (0.35, "0.35 g (0.012 oz)"),
        (453.59237, "454 g (1 lb)"), (0.004, "4 mg (under 0.001 oz)"),
    ],
)  # fmt: skip
def test_ounces_stand_beside_grams_on_request(grams, printed):
    assert mass_print(grams, has_us=True) == printed


@pytest.mark.parametrize(
    ("milliliters", "printed"),
    [
        (2.5, "2.5 mL (about 1/2 tsp)"), (15, "15 mL (about 1 tbsp)"),
        (60, "60 mL (about 1/4 cup)"),
        (240, "240 mL (about 1 cup)"), (350, "350 mL (about 1 1/2 cups)"),
        (1500, "1.5 L (about 1 2/3 quarts)"),
    ],
)  # fmt: skip
def test_kitchen_measures_stand_beside_milliliters_on_request(milliliters, printed):
    assert volume_print(milliliters, has_us=True) == printed
    assert volume_print(milliliters) == printed.split(" (")[0]


@pytest.mark.parametrize(
    ("percent", "printed"), [(0.35, "0.35 %"), (12.5, "12.5 %"), (0.035, "0.035 %")]
)
def test_percent_is_printed(percent, printed):
    assert percent_print(percent) == printed
