"""The one place where numbers become text: always with unit, range and fair digits."""

import math
from dataclasses import replace

from django import template

from setwell.documents.amounts import UNITS_SHOWN
from setwell.provenance import Estimate
from setwell.units import temperature_change_print
from setwell.web.rounding import (
    MINUS,
    NBSP,
    fahrenheit,
    number_plain,
    number_write,
    span_write,
)

register = template.Library()

# International avoirdupois ounce, exact by definition [g].
_OUNCE_G = 28.349523125
_FLUID_OUNCE_ML = 29.5735295625
# Narrower ranges of temperature get a decimal [°C].
_NARROW_C = 2.5
_BARE = {"", "1", "-", "pH"}


@register.filter
def estimate(number: Estimate | None) -> str:
    """Print an estimate: value, range and unit; "at least" when more may be in it.

    >>> from setwell.provenance import Estimate
    >>> estimate(Estimate(3.93, "%", 3.52, 4.31, "m")).replace("\\xa0", " ")
    '3.9 % (3.5 to 4.3)'
    """
    if number is None or not math.isfinite(number.value) or _is_nothing(number):
        return "not known"
    low, high = _finite(number.low), _finite(number.high)
    if number.unit in {"°C", "K"}:
        told = _temperature if number.unit == "°C" else _difference
        return told(number.value, low, high)
    if high is None and low is not None:
        return _least(number)
    if low is None and high is not None:
        return f"at most {_one(high, number)}"
    if low is None or high is None or low == high:
        return _one(number.value, number)
    value, least, most = span_write(number.value, low, high)
    return f"{_with_unit(value, number.unit)} ({least} to {most})"


@register.filter
def value_only(number: Estimate | None) -> str:
    """Print the value of an estimate with its unit, for places where the range stands beside."""
    if number is None or not math.isfinite(number.value) or _is_nothing(number):
        return "not known"
    low, high = _finite(number.low), _finite(number.high)
    if number.unit == "°C":
        return _degrees(number.value, _degree_places(low, high))
    if number.unit == "K":
        return _difference(number.value, None, None)
    if low is None or high is None or low == high:
        return _least(number) if number.is_lower_bound else _one(number.value, number)
    return _with_unit(span_write(number.value, low, high)[0], number.unit)


@register.filter
def span(number: Estimate | None) -> str:
    """Print the range of an estimate alone; empty when it has none."""
    if number is None or not math.isfinite(number.value):
        return ""
    low, high = _finite(number.low), _finite(number.high)
    if low is None or high is None or low == high:
        return ""
    if number.unit == "°C":
        return _temperatures(low, high) if _is_range(low, high) else ""
    if number.unit == "K":
        return _differences(low, high)
    _, least, most = span_write(number.value, low, high)
    return _with_unit(f"{least} to {most}", number.unit)


@register.filter
def share(number: Estimate | None) -> str:
    """Print a fraction of one as a percentage with its range."""
    if number is None:
        return "not known"
    low, high = (None if end is None else 100 * end for end in (number.low, number.high))
    return estimate(replace(number, value=100 * number.value, unit="%", low=low, high=high))


@register.filter
def celsius(degrees: float | None) -> str:
    """Print a temperature in both scales.

    >>> celsius(85.0).replace("\\xa0", " ")
    '85 °C (185 °F)'
    """
    if degrees is None:
        return "not known"
    return _degrees(degrees, 0)


@register.filter
def grams(weight: float | None) -> str:
    """Print a weight in grams."""
    return "not weighed" if weight is None else f"{number_plain(weight)}{NBSP}g"


@register.filter
def weight(grams_: float | None) -> str:
    """Print a weight in grams with ounces or pounds beside it."""
    if grams_ is None:
        return "not weighed"
    beside = us_weight(grams_)
    return f"{grams(grams_)} ({beside})" if beside else grams(grams_)


@register.filter
def us_weight(grams_: float | None) -> str:
    """Print ounces or pounds; nothing below what a kitchen weighs in ounces.

    >>> us_weight(2214.8), us_weight(142.4), us_weight(1.0)
    ('4.88\xa0lb', '5.02\xa0oz', '')
    """
    ounces = (grams_ or 0.0) / _OUNCE_G
    if ounces < 0.05:
        return ""
    amount, unit = (ounces / 16, "lb") if ounces >= 16 else (ounces, "oz")
    return f"{number_plain(amount)}{NBSP}{unit}"


@register.filter
def volume(milliliters: float | None) -> str:
    """Print a volume in milliliters with fluid ounces beside it."""
    if milliliters is None:
        return "not known"
    us = f"{number_plain(milliliters / _FLUID_OUNCE_ML)}{NBSP}fl{NBSP}oz"
    return f"{number_plain(milliliters)}{NBSP}mL ({us})"


@register.filter
def plain(number: float | None) -> str:
    """Print a number whose unit stands in the heading."""
    return "" if number is None else number_plain(number)


@register.filter
def percent(share: float | None) -> str:
    """Print a percentage."""
    return "" if share is None else f"{number_plain(share)}{NBSP}%"


@register.filter
def signed_percent(share: float | None) -> str:
    """Print a relative change with its sign."""
    if share is None:
        return ""
    rounded = round(share, 2)
    sign = "+" if rounded > 0 else ""
    return f"{sign}{number_plain(rounded, 2)}{NBSP}%"


@register.filter
def times(factor: float | None) -> str:
    """Print a factor."""
    return "" if factor is None else f"×{NBSP}{number_plain(factor)}"


@register.filter
def scaled(weight_: float | None, readability: float | None) -> str:
    """Print a weight to what the scale can show, or to a milligram without a scale."""
    if weight_ is None:
        return "not weighed"
    places = 3 if not readability else max(0, -math.floor(math.log10(readability) + 1e-9))
    return f"{weight_:,.{places}f}".replace("-", MINUS) + f"{NBSP}g"


@register.filter
def money(amount: Estimate | None, currency: str) -> str:
    """Print a cost with its currency; "at least" while prices are missing."""
    if amount is None or not math.isfinite(amount.value):
        return "not known"
    least = "at least " if amount.is_lower_bound else ""
    places = 2 if amount.value >= 0.1 or amount.value == 0 else 3
    return f"{least}{amount.value:,.{places}f}{NBSP}{currency}"


def _temperature(value: float, low: float | None, high: float | None) -> str:
    told = _degrees(value, _degree_places(low, high))
    if low is None or high is None or not _is_range(low, high):
        return told
    return f"{told}, range {_temperatures(low, high)}"


def _degrees(degrees: float, places: int) -> str:
    us = number_write(fahrenheit(degrees), places)
    return f"{number_write(degrees, places)}{NBSP}°C ({us}{NBSP}°F)"


def _degree_places(low: float | None, high: float | None) -> int:
    # Whole degrees would print a narrow range, such as that of freezing, onto its own middle.
    is_narrow = low is not None and high is not None and 0 < high - low < _NARROW_C
    return 1 if is_narrow else 0


def _is_range(low: float, high: float) -> bool:
    places = _degree_places(low, high)
    return round(low, places) != round(high, places)


def _difference(value: float, low: float | None, high: float | None) -> str:
    """Print how much warmer one thing is than another."""
    told = temperature_change_print(round(value, 1)).replace(" °", f"{NBSP}°")
    if low is None or high is None or round(low, 1) == round(high, 1):
        return told
    return f"{told}, range {_differences(low, high)}"


def _differences(low: float, high: float) -> str:
    celsius_, us = (
        " to ".join(number_plain(round(scale * end, 1)) for end in (low, high))
        for scale in (1.0, 1.8)
    )
    return f"{celsius_}{NBSP}°C, {us}{NBSP}°F"


def _temperatures(low: float, high: float) -> str:
    places = _degree_places(low, high)
    metric, us = (
        " to ".join(number_write(end, places) for end in ends)
        for ends in ((low, high), (fahrenheit(low), fahrenheit(high)))
    )
    return f"{metric}{NBSP}°C, {us}{NBSP}°F"


def _least(number: Estimate) -> str:
    """Print what is there at least, rounded down: more digits would claim to know the rest."""
    value = number.value
    if value > 0:
        step = 10.0 ** (math.floor(math.log10(value)) - 1)
        value = math.floor(value / step + 1e-9) * step
    return f"at least {_one(value, number)}"


def _is_nothing(number: Estimate) -> bool:
    # "At least none" says no more than that it is not known.
    return number.is_lower_bound and number.value == 0


def _one(value: float, number: Estimate) -> str:
    return _with_unit(number_plain(value), number.unit)


def _with_unit(text: str, unit: str) -> str:
    # The heading of the column says that it is per 100 g.
    unit = unit.removesuffix("/100 g")
    return text if unit in _BARE else f"{text}{NBSP}{UNITS_SHOWN.get(unit, unit)}"


def _finite(value: float | None) -> float | None:
    return None if value is None or not math.isfinite(value) else value
