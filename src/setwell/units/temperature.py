"""Temperatures: parse, convert, print."""

import re

from setwell.errors import OutOfRangeError, UnitError
from setwell.units.number import number_parse
from setwell.units.writing import text_clean, text_quote

# °C; colder than any blast freezer, hotter than any oven step of a set dessert.
COLDEST = -80.0
HOTTEST = 250.0
TEMPERATURE_LIMITS = "-80 to 250 °C (-112 to 482 °F)"
KELVIN_OFFSET = 273.15

_SCALE = re.compile(
    r"(.*?) ?(?:°|degrees?|deg\.?)? ?(c|f|celsius|centigrade|fahrenheit)\.?\Z", re.IGNORECASE
)


def celsius_from_fahrenheit(fahrenheit: float) -> float:
    """Return °C for °F."""
    return (fahrenheit - 32) * 5 / 9


def fahrenheit_from_celsius(celsius: float) -> float:
    """Return °F for °C."""
    return celsius * 9 / 5 + 32


def kelvin_from_celsius(celsius: float) -> float:
    """Return K for °C."""
    return celsius + KELVIN_OFFSET


def temperature_parse(text: str, *, field: str = "") -> float:
    """Return °C for a text like "85 °C", "185F", "-18 C"."""
    written = text_clean(text)
    match = _SCALE.match(written)
    if not match:
        bare = written.rstrip("° ")
        if not any(char.isdigit() for char in bare):
            raise UnitError(
                f"{text_quote(written)} is not a temperature.",
                field=field,
                hint="Write it like 85 °C or 185 °F.",
            )
        raise UnitError(
            f"{text_quote(written)} does not say °C or °F.",
            field=field,
            hint=f"Write {bare or 85} °C or {bare or 185} °F.",
        )
    number = match[1]
    is_below_zero = number.startswith("-")
    value = number_parse(number.removeprefix("-"), field=field)
    value = -value if is_below_zero else value
    celsius = celsius_from_fahrenheit(value) if match[2][0] in "fF" else value
    return temperature_check(celsius, field=field)


def temperature_check(celsius: float, *, field: str = "") -> float:
    """Return the temperature if a kitchen can reach it, else raise OutOfRangeError."""
    if not COLDEST <= celsius <= HOTTEST:
        raise OutOfRangeError(
            f"{temperature_print(celsius)} is outside {TEMPERATURE_LIMITS}.",
            field=field,
            hint="Check the number and whether it is °C or °F.",
        )
    return celsius


def temperature_print(celsius: float) -> str:
    """Return "85 °C (185 °F)"; one decimal where the °C value has one."""
    digits = 0 if abs(celsius - round(celsius)) < 0.05 else 1
    fahrenheit = fahrenheit_from_celsius(celsius)
    return f"{_rounded(celsius, digits)} °C ({_rounded(fahrenheit, digits)} °F)"


def temperature_change_print(kelvin: float) -> str:
    """Return "5 °C (9 °F)" for a difference, where no 32 is added."""
    digits = 0 if abs(kelvin - round(kelvin)) < 0.05 else 1
    return f"{_rounded(kelvin, digits)} °C ({_rounded(kelvin * 9 / 5, digits)} °F)"


def _rounded(value: float, digits: int) -> str:
    text = f"{value:.{digits}f}"
    text = text.removesuffix(".0")
    return "0" if text == "-0" else text
