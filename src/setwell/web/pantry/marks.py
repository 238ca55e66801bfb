"""Marks for equipment: its lengths, power and room, each with its unit."""

from django import template

from setwell.domain.pantry import Mold, Vessel
from setwell.web.rounding import NBSP, number_plain

register = template.Library()

_MM_PER_INCH = 25.4
_L_PER_GALLON = 3.785411784
_BTU_PER_WATT_HOUR = 3.412142


@register.filter
def lengths(thing: Mold | Vessel) -> str:
    """Print the lengths inside, in mm and inches; empty where none were given."""
    given = [
        value
        for name in ("length_mm", "width_mm", "diameter_mm", "height_mm")
        if (value := getattr(thing, name, None)) is not None
    ]
    if not given:
        return ""
    metric = " × ".join(number_plain(value) for value in given)
    inches = " × ".join(number_plain(round(value / _MM_PER_INCH, 1)) for value in given)
    return f"{metric}{NBSP}mm ({inches}{NBSP}in)"


@register.filter
def watts(power: float) -> str:
    """Print a power in watts with BTU per hour beside it."""
    return f"{number_plain(power)}{NBSP}W ({power * _BTU_PER_WATT_HOUR:,.0f}{NBSP}BTU/h)"


@register.filter
def liters(room: float) -> str:
    """Print the room of a cold place."""
    return f"{number_plain(room)}{NBSP}L ({number_plain(room / _L_PER_GALLON)}{NBSP}gal)"


@register.filter
def of_the_power(efficiency: float) -> str:
    """Print the share of the power that reaches the food."""
    return f"{efficiency * 100:.0f}{NBSP}% of the power"
