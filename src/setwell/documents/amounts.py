"""Print weights, temperatures and estimates the way a card shows them."""

import math
import re

from setwell.provenance import Estimate
from setwell.units import (
    fahrenheit_from_celsius,
    mass_print,
    percent_print,
    temperature_change_print,
)

# Lighter than this an ounce scale cannot help (0.05 oz) [g].
OUNCES_FROM_G = 1.4

# Units that a page writes in another way than a table does.
UNITS_SHOWN = {"W/m2K": "W/(m²·K)"}

_CELSIUS = re.compile(
    r"(?P<low>-?\d+(?:\.\d+)?)(?:\s*(?:–|-|to)\s*(?P<high>-?\d+(?:\.\d+)?))?\s*°\s*C"
)
# An amount goes on behind these.
_MORE = {"plus", "and", "or", "to"}
_METRIC = re.compile(r"(?P<amount>\d+(?:\.\d+)?)\s*(?P<unit>kg|g)\s+(?P<rest>\S.*)", re.I | re.S)
_US_VOLUME = re.compile(
    r"(?P<amount>\d[\d\s/.,]*[¼½¾⅓⅔⅛⅜⅝⅞]?|[¼½¾⅓⅔⅛⅜⅝⅞])\s*"
    r"(?P<unit>cups?|tablespoons?|tbsps?|teaspoons?|tsps?|fl\.?\s?oz|pints?|quarts?|gallons?)\b",
    re.IGNORECASE,
)


def number_text(value: float, *, digits: int = 3) -> str:
    """Return a number with so many significant digits, never in exponent form."""
    if value == 0 or not math.isfinite(value):
        return "0" if value == 0 else "?"
    places = max(0, digits - 1 - math.floor(math.log10(abs(value))))
    text = f"{value:.{min(places, 6)}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def ounces_text(grams: float) -> str:
    """Return a weight in pounds and ounces; empty when an ounce scale cannot show it.

    >>> ounces_text(350.0), ounces_text(1000.0), ounces_text(0.5)
    ('12.3 oz', '2 lb 3.3 oz', '')
    """
    if grams < OUNCES_FROM_G:
        return ""
    return mass_print(grams, has_us=True).partition(" (")[2].removesuffix(")")


def unweighed_text(line: str, grams: float | None) -> str:
    """Return a line without the amount it begins with, where that stands beside it anyway.

    >>> unweighed_text("500 g whole milk", 500.0), unweighed_text("2 tbsp honey", 42.0)
    ('whole milk', 'honey')
    >>> unweighed_text("500 g milk", 1000.0), unweighed_text("0.6% agar", 3.0)
    ('500 g milk', '0.6% agar')
    """
    text = line.strip()
    if grams is None:
        return text
    spooned = _US_VOLUME.match(text)
    if spooned is not None:
        rest = text[spooned.end() :].strip().removeprefix("of ")
        is_whole = rest[:1].isalpha() and rest.split()[0].lower() not in _MORE
        return rest if is_whole else text
    typed = _METRIC.match(text)
    if typed is None:
        return text
    stated = float(typed["amount"]) * (1000.0 if typed["unit"].lower() == "kg" else 1.0)
    return typed["rest"] if math.isclose(stated, grams, rel_tol=1e-6) else text


def us_text(line: str, grams: float) -> str:
    """Return the US measure of a line: its own cups or spoons, or else ounces.

    >>> us_text("1 1/2 cups coconut milk", 340.0), us_text("350 g milk", 350.0)
    ('1 1/2 cups', '12.3 oz')
    """
    typed = _US_VOLUME.search(line)
    if typed is None:
        return ounces_text(grams)
    return f"{typed['amount'].strip()} {typed['unit']}"


def temperature_text(celsius: float) -> str:
    """Return a temperature in both scales.

    >>> temperature_text(85.0)
    '85 °C (185 °F)'
    """
    return f"{round(celsius)} °C ({round(fahrenheit_from_celsius(celsius))} °F)"


def temperature_floor_text(celsius: float) -> str:
    """Return a temperature that must be reached, both scales rounded up.

    >>> temperature_floor_text(72.4)
    '73 °C (164 °F)'
    """
    degrees = math.ceil(celsius - 1e-9)
    return f"{degrees} °C ({math.ceil(fahrenheit_from_celsius(degrees) - 1e-9)} °F)"


def temperature_ceiling_text(celsius: float) -> str:
    """Return a temperature to stay below, both scales rounded down."""
    degrees = math.floor(celsius + 1e-9)
    return f"{degrees} °C ({math.floor(fahrenheit_from_celsius(degrees) + 1e-9)} °F)"


def temperatures_in(text: str) -> tuple[str, ...]:
    """Return every Celsius temperature in a sentence, in both scales.

    >>> temperatures_in("heats the batch to 85 °C, then holds 70 to 75 °C")
    ('85 °C (185 °F)', '70–75 °C (158–167 °F)')
    """
    found = (
        _span(float(match["low"]), float(match["high"] or match["low"]))
        for match in _CELSIUS.finditer(text)
    )
    return tuple(dict.fromkeys(found))


def estimate_text(estimate: Estimate) -> str:
    """Return the value of an estimate with its unit; "at least" when nothing bounds it above."""
    if not math.isfinite(estimate.value):
        return "cannot tell"
    if estimate.unit == "°C":
        text = temperature_text(estimate.value)
    elif estimate.unit == "K":
        text = temperature_change_print(round(estimate.value, 1))
    elif estimate.unit == "%":
        text = percent_print(estimate.value)
    else:
        text = _with_unit(number_text(estimate.value, digits=_digits(estimate.unit)), estimate.unit)
    return f"at least {text}" if estimate.is_lower_bound else text


def range_text(estimate: Estimate) -> str:
    """Return the range of an estimate with its unit; empty when no side is known."""
    low, high = (_finite(estimate.low), _finite(estimate.high))
    if low is None and high is None:
        return ""
    if low is None or high is None:
        side = "or more" if high is None else "or less"
        return f"{_one_side(low if high is None else high, estimate.unit)} {side}"
    if low == high:
        return ""
    if estimate.unit == "°C":
        return _span(low, high)
    if estimate.unit == "K":
        return _change_span(low, high)
    digits = _digits(estimate.unit)
    span = f"{number_text(low, digits=digits)}–{number_text(high, digits=digits)}"
    return _with_unit(span, estimate.unit)


def _span(low: float, high: float) -> str:
    if round(low) == round(high):
        return temperature_text(low)
    us_low, us_high = fahrenheit_from_celsius(low), fahrenheit_from_celsius(high)
    return f"{round(low)}–{round(high)} °C ({round(us_low)}–{round(us_high)} °F)"


def _change_span(low: float, high: float) -> str:
    celsius, us = (
        "–".join(number_text(round(factor * end, 1)) for end in (low, high))
        for factor in (1.0, 1.8)
    )
    return f"{celsius} °C ({us} °F)"


def _one_side(value: float | None, unit: str) -> str:
    if value is None:
        return ""
    if unit == "°C":
        return temperature_text(value)
    return _with_unit(number_text(value, digits=_digits(unit)), unit)


def _with_unit(number: str, unit: str) -> str:
    return number if unit in {"", "1", "-", "pH"} else f"{number} {UNITS_SHOWN.get(unit, unit)}"


def _digits(unit: str) -> int:
    # Kitchen meters read pH and stiffness to two digits; more would pretend to know.
    return 2 if unit in {"", "1", "-", "pH", "kPa", "mPa·s", "mPa s"} else 3


def _finite(value: float | None) -> float | None:
    return None if value is None or not math.isfinite(value) else value
