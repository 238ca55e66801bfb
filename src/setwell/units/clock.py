"""Times of the day: parse."""

import re

from setwell.errors import InputError
from setwell.units.writing import text_clean, text_quote

_CLOCK = re.compile(
    r"(?P<hour>\d{1,2})(?:[:.h](?P<minute>\d{2}))? ?(?P<half>[ap]\.?m\.?)?", re.IGNORECASE
)
_HOUR, _HALF_DAY = 60, 12


def clock_parse(text: str, *, field: str = "") -> float:
    """Return minutes after midnight for a text like "18:30", "6:30 pm" or "7 am".

    >>> clock_parse("18:30"), clock_parse("6:30 pm"), clock_parse("12 am")
    (1110.0, 1110.0, 0.0)
    """
    match = _CLOCK.fullmatch(text_clean(text))
    hour = int(match["hour"]) if match else -1
    minute = int(match["minute"] or 0) if match else 0
    half = (match["half"] or "")[:1].lower() if match else ""
    most = _HALF_DAY if half else 23
    if match is None or not (1 if half else 0) <= hour <= most or minute >= _HOUR:
        raise InputError(
            f"{text_quote(text_clean(text))} is not a time of the day.",
            field=field,
            hint="Write it like 18:30 or 6:30 pm.",
        )
    if half:
        hour = hour % _HALF_DAY + (_HALF_DAY if half == "p" else 0)
    return float(hour * _HOUR + minute)
