"""Conversion factors against the exact definitions of the US standards body.

The rows were recalled; they are exact definitions, so every printed digit must match.
"""

import csv
from decimal import Decimal
from pathlib import Path

import pytest

from setwell.units import (
    celsius_from_fahrenheit,
    fahrenheit_from_celsius,
    mass_grams,
    volume_milliliters,
)

_CASES = Path(__file__).parent / "cases" / "units.csv"


def _rows():
    with _CASES.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize("row", _rows(), ids=lambda row: row["unit"])
def test_factor_matches_every_printed_digit(row):
    convert = mass_grams if row["expected_unit"] == "g" else volume_milliliters
    got = Decimal(repr(convert(float(row["quantity"]), row["unit"])))
    digits = Decimal(row["printed"])
    assert got.quantize(digits) == digits
    assert float(got) == float(digits)


# NIST SP 811 Appendix B.8: t/°C = (t/°F − 32)/1.8; ice point and steam point by definition.
@pytest.mark.parametrize(("celsius", "fahrenheit"), [(0.0, 32.0), (100.0, 212.0), (-40.0, -40.0)])
def test_fixed_points_of_the_two_scales_agree(celsius, fahrenheit):
    assert fahrenheit_from_celsius(celsius) == fahrenheit
    assert celsius_from_fahrenheit(fahrenheit) == celsius
