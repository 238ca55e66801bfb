"""Weights, temperatures and ranges as a card prints them."""

import math

import pytest
from builders_assessment import estimate_make

from setwell.documents.amounts import (
    estimate_text,
    number_text,
    ounces_text,
    range_text,
    temperature_ceiling_text,
    temperature_floor_text,
    temperatures_in,
    unweighed_text,
    us_text,
)


@pytest.mark.parametrize(
    ("value", "text"),
    [(0.0, "0"), (3.14159, "3.14"), (1234.4, "1234"), (0.000012, "0.000012"), (math.nan, "?")],
)
def test_numbers_keep_three_digits_and_no_exponent(value, text):
    assert number_text(value) == text


def test_ounces_are_left_out_where_a_scale_cannot_show_them():
    assert ounces_text(0.8) == ""
    assert ounces_text(28.349523125) == "1 oz"


@pytest.mark.parametrize(
    ("line", "text"),
    [
        ("2 cups oat drink", "2 cups"),
        ("½ tsp agar", "½ tsp"),
        ("oat drink, 1 1/2 cups", "1 1/2 cups"),
        ("3 Tbsp. sugar", "3 Tbsp"),
        ("350 g cupcake crumbs", "12.3 oz"),
    ],
)
def test_us_measure_is_the_typed_one_when_there_is_one(line, text):
    assert us_text(line, 350.0) == text


def test_a_temperature_to_reach_is_never_rounded_down():
    assert temperature_floor_text(84.2) == "85 °C (185 °F)"
    assert temperature_floor_text(85.0) == "85 °C (185 °F)"


def test_a_temperature_to_stay_below_is_never_rounded_up():
    assert temperature_ceiling_text(40.9) == "40 °C (104 °F)"


def test_temperatures_are_found_once_each_and_shown_in_both_scales():
    read = "heats to 85 °C (185 °F), holds at 85 °C, cools to -18 °C"
    assert temperatures_in(read) == ("85 °C (185 °F)", "-18 °C (0 °F)")
    assert temperatures_in("stirs for 2 min") == ()


@pytest.mark.parametrize(
    ("low", "high", "unit", "text"),
    [
        (40.0, 58.0, "°C", "40–58 °C (104–136 °F)"),
        (1.6, 6.4, "kPa", "1.6–6.4 kPa"),
        (4.2, 5.1, "", "4.2–5.1"),
        (90.0, None, "kcal", "90 kcal or more"),
        (None, 90.0, "kcal", "90 kcal or less"),
        (None, None, "kcal", ""),
        (5.0, 5.0, "g", ""),
        (0.37, 0.79, "K", "0.4–0.8 °C (0.7–1.4 °F)"),
        (9.4, 16.0, "W/m2K", "9.4–16 W/(m²·K)"),
    ],
)
def test_ranges_carry_their_unit(low, high, unit, text):
    assert range_text(estimate_make(5.0, unit, low, high)) == text


def test_open_ended_estimates_say_at_least():
    assert estimate_text(estimate_make(98.0, "kcal", 98.0, None)) == "at least 98 kcal"


def test_a_difference_is_told_in_degrees_that_no_32_is_added_to():
    assert estimate_text(estimate_make(0.49, "K")) == "0.5 °C (0.9 °F)"
    assert estimate_text(estimate_make(20.0, "K")) == "20 °C (36 °F)"


def test_a_number_that_is_none_says_so():
    assert estimate_text(estimate_make(math.nan, "°C")) == "cannot tell"


@pytest.mark.parametrize(
    ("line", "grams", "name"),
    [
        (" 500 g whole milk, warm", 500.0, "whole milk, warm"),
        ("0.5 kg apple juice", 500.0, "apple juice"),
        ("2 tbsp honey", 42.0, "honey"),
        ("1 cup of cream", 240.0, "cream"),
        ("1 1/2 cups coconut milk", 340.0, "coconut milk"),
        # What could not be told from elsewhere stays.
        ("500 g whole milk", 250.0, "500 g whole milk"),
        ("1 cup (240 g) cream", 240.0, "1 cup (240 g) cream"),
        ("2 tbsp plus 1 tsp honey", 49.0, "2 tbsp plus 1 tsp honey"),
        ("0,5 kg apple juice", 500.0, "0,5 kg apple juice"),
        ("0.6% agar", 3.0, "0.6% agar"),
        ("salt to 0.2%", 1.0, "salt to 0.2%"),
        ("500 g", 500.0, "500 g"),
        ("2 tbsp mystery", None, "2 tbsp mystery"),
    ],
)
def test_an_amount_that_stands_beside_a_line_is_not_said_twice(line, grams, name):
    assert unweighed_text(line, grams) == name
