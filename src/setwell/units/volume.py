"""Units of volume, derived from the exact inch and gallons."""

from decimal import Decimal

from setwell.errors import UnitError
from setwell.units.unit import Dimension, Unit

# cm per inch, exact; the US gallon is 231 cubic inches (NIST Handbook 44 Appendix C).
INCH = Decimal("2.54")
GALLON = 231 * INCH**3
# mL per imperial gallon, exact (NIST SP 811 Appendix B).
IMPERIAL_GALLON = Decimal("4546.09")
TEASPOON = GALLON / 768


def _unit(name: str, factor: Decimal, *, plural: str = "", is_assumed: bool = False) -> Unit:
    return Unit(name, plural or name, Dimension.VOLUME, float(factor), is_assumed)


VOLUME_UNITS = {
    unit.name: unit
    for unit in (
        _unit("mL", Decimal(1)),
        _unit("cL", Decimal(10)),
        _unit("dL", Decimal(100)),
        _unit("L", Decimal(1000)),
        _unit("tsp", TEASPOON),
        _unit("tbsp", TEASPOON * 3),
        _unit("fl oz", GALLON / 128),
        _unit("cup", GALLON / 16, plural="cups"),
        _unit("pint", GALLON / 8, plural="pints"),
        _unit("quart", GALLON / 4, plural="quarts"),
        _unit("gallon", GALLON, plural="gallons"),
        # Metric kitchen measures are round by convention.
        _unit("metric tsp", Decimal(5)),
        _unit("metric tbsp", Decimal(15)),
        _unit("metric cup", Decimal(250), plural="metric cups"),
        _unit("imp fl oz", IMPERIAL_GALLON / 160),
        _unit("imp pint", IMPERIAL_GALLON / 8, plural="imp pints"),
        _unit("imp quart", IMPERIAL_GALLON / 4, plural="imp quarts"),
        _unit("imp gallon", IMPERIAL_GALLON, plural="imp gallons"),
        # Common practice, no source.
        _unit("pinch", TEASPOON / 16, plural="pinches", is_assumed=True),
        _unit("dash", TEASPOON / 8, plural="dashes", is_assumed=True),
    )
}


def volume_milliliters(value: float, unit: str) -> float:
    """Return milliliters for a value in the named unit."""
    return value * _found(unit).factor


def volume_in(milliliters: float, unit: str) -> float:
    """Return milliliters expressed in the named unit."""
    return milliliters / _found(unit).factor


def _found(unit: str) -> Unit:
    if unit not in VOLUME_UNITS:
        raise UnitError(
            f'"{unit}" is not a unit of volume.', hint=f"Use {', '.join(VOLUME_UNITS)}."
        )
    return VOLUME_UNITS[unit]
