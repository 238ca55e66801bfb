"""Numbers that stay beside their units where a line ends."""

import re

_NBSP = "\u00a0"
_UNITS = (
    "°C", "°F", "°Brix", "%", "‰", "kPa", "Pa", "mPa·s", "kcal", "kJ", "kg", "mg", "µg", "g",
    "mL", "ml", "cL", "dL", "L", "lb", "fl", "oz", "tbsp", "tsp", "mm", "cm", "m", "ft",
    "mmol", "mol", "min", "h", "s", "d", "K", "Bloom", "rpm", "kW", "W",
)  # fmt: skip
# Behind a number, and not the beginning of a longer word.
_SPACE = re.compile(
    rf"(?<=\d) (?=(?:{'|'.join(map(re.escape, _UNITS))})(?![\w°]))|(?<=\bfl) (?=oz\b)"
)


def unbroken(text: str) -> str:
    """Return text with no-break spaces between numbers and units.

    >>> unbroken("Cool to 4 °C (39 °F) in 2 h").replace("\\xa0", "_")
    'Cool to 4_°C (39_°F) in 2_h'
    """
    return _SPACE.sub(_NBSP, text) if " " in text else text
