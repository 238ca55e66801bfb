"""Durations in minutes: parse and print."""

import re

from setwell.errors import InputError, OutOfRangeError, UnitError
from setwell.units.number import number_parse, number_print
from setwell.units.writing import text_clean, text_quote

# One year in minutes; nothing in a kitchen holds longer.
LONGEST = 525_600.0

DURATION_UNIT = r"(?:s|secs?|seconds?|min|mins|minutes?|h|hrs?|hours?|d|days?)"
_PART = re.compile(rf"([^a-z]*[0-9]) ?({DURATION_UNIT})(?![a-z])\.?(?:,? and|,)? ?", re.IGNORECASE)
_MINUTES = {"s": 1 / 60, "m": 1.0, "h": 60.0, "d": 1440.0}


def duration_parse(text: str, *, field: str = "") -> float:
    """Return minutes for a text like "90 s", "2 min", "1 h 30 min"."""
    written = text_clean(text)
    if not written:
        raise InputError("There is no time.", field=field, hint="Write it like 30 s, 2 min or 4 h.")
    total, position = 0.0, 0
    while position < len(written):
        part = _PART.match(written, position)
        if not part:
            raise UnitError(
                f"{text_quote(written)} is not a time.",
                field=field,
                hint="Write it like 30 s, 2 min or 1 h 30 min.",
            )
        total += number_parse(part[1], field=field) * _MINUTES[part[2][0].lower()]
        position = part.end()
    if total > LONGEST:
        raise OutOfRangeError(
            f"{text_quote(written)} is more than a year.", field=field, hint="Check the unit."
        )
    return total


def duration_print(minutes: float) -> str:
    """Return "30 s", "2 min", "1 h 30 min" or "2 d"."""
    seconds = round(minutes * 60)
    if seconds < 60:
        return f"{seconds} s"
    if seconds < 3600:
        return f"{number_print(round(minutes, 1))} min"
    hours, rest = divmod(round(minutes), 60)
    if hours >= 48 and rest == 0 and hours % 24 == 0:
        return f"{hours // 24} d"
    return f"{hours} h {rest} min" if rest else f"{hours} h"
