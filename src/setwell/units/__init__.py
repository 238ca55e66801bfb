"""Amounts in kitchen units: parse, convert, print."""

from setwell.units.calendar_day import date_print
from setwell.units.clock import clock_parse
from setwell.units.count import COUNT_UNITS, EACH
from setwell.units.duration import duration_parse, duration_print
from setwell.units.kitchen_time import time_print, time_range_print
from setwell.units.mass import MASS_UNITS, mass_grams, mass_in
from setwell.units.number import NumberFault, number_parse, number_print, number_read
from setwell.units.printing import mass_print, percent_print, volume_print
from setwell.units.quantity import Quantity, mass_parse, quantity_parse, volume_parse
from setwell.units.spelling import UNITS, unit_find
from setwell.units.temperature import (
    celsius_from_fahrenheit,
    fahrenheit_from_celsius,
    kelvin_from_celsius,
    temperature_change_print,
    temperature_check,
    temperature_parse,
    temperature_print,
)
from setwell.units.unbroken import unbroken
from setwell.units.unit import Dimension, Unit
from setwell.units.volume import VOLUME_UNITS, volume_in, volume_milliliters
from setwell.units.writing import text_clean, text_has_control, text_quote

__all__ = [
    "COUNT_UNITS",
    "EACH",
    "MASS_UNITS",
    "UNITS",
    "VOLUME_UNITS",
    "Dimension",
    "NumberFault",
    "Quantity",
    "Unit",
    "celsius_from_fahrenheit",
    "clock_parse",
    "date_print",
    "duration_parse",
    "duration_print",
    "fahrenheit_from_celsius",
    "kelvin_from_celsius",
    "mass_grams",
    "mass_in",
    "mass_parse",
    "mass_print",
    "number_parse",
    "number_print",
    "number_read",
    "percent_print",
    "quantity_parse",
    "temperature_change_print",
    "temperature_check",
    "temperature_parse",
    "temperature_print",
    "text_clean",
    "text_has_control",
    "text_quote",
    "time_print",
    "time_range_print",
    "unbroken",
    "unit_find",
    "volume_in",
    "volume_milliliters",
    "volume_parse",
    "volume_print",
]
