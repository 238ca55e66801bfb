"""Units of mass, derived from the exact pound."""

from decimal import Decimal

from setwell.errors import UnitError
from setwell.units.unit import Dimension, Unit

# g per avoirdupois pound, exact since 1959 (NIST SP 811 Appendix B).
POUND = Decimal("453.59237")
# The US pack of butter: four sticks to the pound; common practice.
STICKS_PER_POUND = 4


def _unit(name: str, factor: Decimal, *, plural: str = "", is_assumed: bool = False) -> Unit:
    return Unit(name, plural or name, Dimension.MASS, float(factor), is_assumed)


MASS_UNITS = {
    unit.name: unit
    for unit in (
        _unit("mg", Decimal("0.001")),
        _unit("g", Decimal(1)),
        _unit("kg", Decimal(1000)),
        _unit("oz", POUND / 16),
        _unit("lb", POUND),
        _unit("stick", POUND / STICKS_PER_POUND, plural="sticks", is_assumed=True),
    )
}


def mass_grams(value: float, unit: str) -> float:
    """Return grams for a value in the named unit."""
    return value * _found(unit).factor


def mass_in(grams: float, unit: str) -> float:
    """Return grams expressed in the named unit."""
    return grams / _found(unit).factor


def _found(unit: str) -> Unit:
    if unit not in MASS_UNITS:
        raise UnitError(f'"{unit}" is not a unit of mass.', hint=f"Use {', '.join(MASS_UNITS)}.")
    return MASS_UNITS[unit]
