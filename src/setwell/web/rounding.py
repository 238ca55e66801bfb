"""How many digits a number deserves, and how it is written."""

import math

# A space that does not break, so that a number stays with its unit.
NBSP = "\u00a0"
MINUS = "−"
# Digits shown when nothing is known about the range.
PLAIN_DIGITS = 3
# From this ratio on, each end of a range gets its own two digits.
WIDE = 4.0
# No kitchen figure needs more places than this.
MOST_PLACES = 4
# Narrower than any printed digit: no width at all.
_NO_WIDTH = 1e-300


def places_for(value: float, low: float | None, high: float | None) -> int:
    """Return the decimal places that the width of the range still justifies; may be negative.

    >>> places_for(3.93, 3.52, 4.31), places_for(61.2, 55.0, 66.0), places_for(0.123456, None, None)
    (1, 0, 3)
    """
    if low is not None and high is not None and high - low > _NO_WIDTH:
        # A third of the width, so that a range never rounds onto its own middle.
        step = math.floor(math.log10((high - low) / 3))
        return min(MOST_PLACES, -step)
    if abs(value) <= _NO_WIDTH:
        return 0
    return min(MOST_PLACES, PLAIN_DIGITS - 1 - math.floor(math.log10(abs(value))))


def number_write(value: float, places: int) -> str:
    """Return a number with so many places, thousands set off, and a true minus sign.

    >>> number_write(12345.6, -2), number_write(-0.04, 1), number_write(3.0, 2)
    ('12,300', '0', '3.00')
    """
    if not math.isfinite(value):
        return "not known"
    rounded = round(value, places)
    text = f"{abs(rounded):,.{max(places, 0)}f}"
    if rounded == 0:
        return "0"
    return f"{MINUS}{text}" if rounded < 0 else text


def number_plain(value: float, digits: int = PLAIN_DIGITS) -> str:
    """Return an exact number without idle zeros, whole numbers in full.

    >>> number_plain(350.0), number_plain(1.754), number_plain(0.5), number_plain(12345.6)
    ('350', '1.75', '0.5', '12,346')
    """
    if abs(value) <= _NO_WIDTH or not math.isfinite(value):
        return number_write(value, 0)
    places = digits - 1 - math.floor(math.log10(abs(value)))
    text = number_write(value, max(0, min(MOST_PLACES, places)))
    return text.rstrip("0").rstrip(".") if "." in text else text


def span_write(value: float, low: float, high: float) -> tuple[str, str, str]:
    """Return value, low and high with digits that fit the range.

    >>> span_write(3.93, 3.52, 4.31), span_write(10.4, 3.21, 38.7)
    (('3.9', '3.5', '4.3'), ('10', '3.2', '39'))
    >>> span_write(0.62, 0.0, 40.0)
    ('0.62', '0', '40')
    """
    if low > 0 and high / low > WIDE:
        return number_plain(value, 2), number_plain(low, 2), number_plain(high, 2)
    places = places_for(value, low, high)
    if value > 0 and round(value, places) <= 0:
        # A small number with a long way up is not nothing.
        return number_plain(value, 2), number_plain(low, 2), number_plain(high, 2)
    return number_write(value, places), number_write(low, places), number_write(high, places)


def fahrenheit(celsius: float) -> float:
    """Return a temperature in degrees Fahrenheit."""
    return celsius * 9 / 5 + 32
