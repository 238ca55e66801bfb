"""Numbers as text: unit, range and fair digits, in one place."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from setwell.provenance import Estimate
from setwell.web import figures
from setwell.web.rounding import number_plain, number_write, span_write


def text(value, unit, low=None, high=None):
    return figures.estimate(Estimate(value, unit, low, high, "test")).replace("\u00a0", " ")


@pytest.mark.parametrize(
    ("value", "unit", "low", "high", "said"),
    [
        (3.93, "%", 3.52, 4.31, "3.9 % (3.5 to 4.3)"),
        (48.3, "°C", 41.2, 55.4, "48 °C (119 °F), range 41 to 55 °C, 106 to 132 °F"),
        (0.49, "K", 0.37, 0.79, "0.5 °C (0.9 °F), range 0.4 to 0.8 °C, 0.7 to 1.4 °F"),
        (12.3, "W/m2K", 9.42, 16.0, "12 W/(m²·K) (9 to 16)"),
        (85.0, "°C", 85.0, 85.0, "85 °C (185 °F)"),
        (-18.0, "°C", None, None, "−18 °C (0 °F)"),
        (10.4, "kPa", 3.21, 38.7, "10 kPa (3.2 to 39)"),
        (12345.0, "kJ", 11000.0, 13500.0, "12,300 kJ (11,000 to 13,500)"),
        (-1.93, "°C", -2.46, -1.41, "−1.9 °C (28.5 °F), range −2.5 to −1.4 °C, 27.6 to 29.5 °F"),
        (3.27, "g", 3.0, None, "at least 3.2 g"),
        (71.5, "mg", 71.5, None, "at least 71 mg"),
        (433.0, "mg", 433.0, None, "at least 430 mg"),
        (0.0605, "mg", 0.06, None, "at least 0.06 mg"),
        (0.0, "g", 0.0, None, "not known"),
        (3.21, "g", None, 4.0, "at most 4 g"),
        (0.0, "g", 0.0, 0.0, "0 g"),
        (6.3, "pH", 6.0, 6.7, "6.3 (6.0 to 6.7)"),
        (14.25, "g/100 g", 14.0, 14.5, "14.2 g (14.0 to 14.5)"),
        (0.012345, "%", None, None, "0.0123 %"),
        (math.nan, "g", None, None, "not known"),
        (5.0, "g", math.nan, math.inf, "5 g"),
    ],
)
def test_an_estimate_is_printed_with_unit_and_range(value, unit, low, high, said):
    assert text(value, unit, low, high) == said


def test_a_missing_estimate_is_not_known():
    assert figures.estimate(None) == "not known"
    assert figures.value_only(None) == "not known"
    assert figures.money(None, "USD") == "not known"


@pytest.mark.parametrize(
    ("printed", "said"),
    [
        (figures.weight(960.0), "960 g (2.12 lb)"),
        (figures.weight(94.5), "94.5 g (3.33 oz)"),
        (figures.weight(0.5), "0.5 g"),
        (figures.weight(None), "not weighed"),
        (figures.volume(90.0), "90 mL (3.04 fl oz)"),
        (figures.percent(6.453), "6.45 %"),
        (figures.signed_percent(-0.0347), "−0.03 %"),
        (figures.signed_percent(1.5), "+1.5 %"),
        (figures.signed_percent(0.001), "0 %"),
        (figures.scaled(1860.457, 1.0), "1,860 g"),
        (figures.scaled(3.7158, 0.01), "3.72 g"),
        (figures.scaled(3.7158, 0.0), "3.716 g"),
        (figures.celsius(4.0), "4 °C (39 °F)"),
        (figures.times(2.657), "× 2.66"),
    ],
)
def test_plain_amounts_always_carry_their_unit(printed, said):
    assert printed.replace("\u00a0", " ") == said


def test_money_is_at_least_while_a_price_is_missing():
    known = Estimate(3.2, "USD", 3.2, 3.2, "test")
    partly = Estimate(3.2, "USD", 3.2, None, "test")
    assert figures.money(known, "USD").replace("\u00a0", " ") == "3.20 USD"
    assert figures.money(partly, "EUR").replace("\u00a0", " ") == "at least 3.20 EUR"


def test_a_fraction_is_printed_as_percent():
    number = Estimate(0.97, "1", 0.9, 1.0, "test")
    assert figures.share(number).replace("\u00a0", " ") == "97 % (90 to 100)"


@given(st.floats(-1e7, 1e7), st.floats(0, 1e6), st.floats(0, 1e6))
def test_a_printed_range_stays_in_order_and_near_the_numbers(value, below, above):
    low, high = value - below, value + above
    middle, least, most = span_write(value, low, high)
    printed = (least, middle, most)
    numbers = [float(part.replace(",", "").replace("−", "-")) for part in printed]
    assert numbers == sorted(numbers)
    width = max(high - low, abs(value) * 0.05, 1e-3)
    for shown, meant in zip(numbers, (low, value, high), strict=True):
        assert abs(shown - meant) <= width


@given(st.floats(1e-3, 1e9))
def test_a_plain_number_is_right_to_three_digits(value):
    shown = float(number_plain(value).replace(",", ""))
    assert abs(shown - value) <= max(0.006 * value, 6e-5)


def test_there_is_no_minus_zero():
    assert number_write(-0.0004, 2) == "0"


@pytest.mark.parametrize(
    ("number", "said"),
    [
        (Estimate(6.0, "pH", 2.0, 10.0, "test"), "2 to 10"),
        (Estimate(95.0, "°C", 90.0, 100.0, "test"), "90 to 100 °C, 194 to 212 °F"),
        (Estimate(0.77, "%", 0.2, 3.0, "test"), "0.2 to 3 %"),
        (Estimate(5.0, "%", 5.0, 5.0, "test"), ""),
        (Estimate(5.0, "%", 5.0, None, "test"), ""),
        (None, ""),
    ],
)
def test_a_range_alone_is_printed_with_its_unit_or_not_at_all(number, said):
    assert figures.span(number).replace("\u00a0", " ") == said
