"""A number with its unit, as typed into one field."""

import re
from dataclasses import dataclass

from setwell.errors import OutOfRangeError, UnitError
from setwell.units.number import number_parse, number_print
from setwell.units.spelling import unit_find
from setwell.units.unit import Dimension, Unit
from setwell.units.writing import text_clean, text_quote

_SPLIT = re.compile(r"(.*[0-9])[ -]?([^0-9]*)\Z", re.DOTALL)
# Nothing in a kitchen is larger: 1000 kg in g, 1000 L in mL.
LARGEST = 1e6


@dataclass(frozen=True, slots=True)
class Quantity:
    """A value in its unit; `amount` is the same in g, mL or pieces."""

    value: float
    unit: Unit

    @property
    def amount(self) -> float:
        """The value in g, mL or pieces."""
        return self.value * self.unit.factor


def quantity_parse(text: str, *, field: str = "") -> Quantity:
    """Return the quantity written as "350 g" or "1 1/2 cups"."""
    written = text_clean(text)
    match = _SPLIT.match(written)
    value = number_parse(match[1] if match else written, field=field)
    unit_text = match[2] if match else ""
    if not unit_text:
        raise UnitError(
            f"{text_quote(written)} has no unit.",
            field=field,
            hint=f"Write {number_print(value)} g or {number_print(value)} mL.",
        )
    return Quantity(value, unit_find(unit_text, field=field))


def mass_parse(text: str, *, field: str = "") -> float:
    """Return grams for a text like "350 g", "1.5 lb"."""
    return _amount(text, Dimension.MASS, "a mass", "350 g", field)


def volume_parse(text: str, *, field: str = "") -> float:
    """Return milliliters for a text like "80 mL", "1/2 cup"."""
    return _amount(text, Dimension.VOLUME, "a volume", "80 mL", field)


def _amount(text: str, dimension: Dimension, what: str, example: str, field: str) -> float:
    quantity = quantity_parse(text, field=field)
    if quantity.unit.dimension != dimension:
        raise UnitError(
            f"{text_quote(text)} is not {what}.", field=field, hint=f"Write it like {example}."
        )
    if quantity.amount > LARGEST:
        limit = "1000 kg" if dimension == Dimension.MASS else "1000 L"
        raise OutOfRangeError(
            f"{text_quote(text)} is more than {limit}.", field=field, hint="Check the unit."
        )
    return quantity.amount
