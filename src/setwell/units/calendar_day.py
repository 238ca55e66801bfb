"""A day as every reader of English reads it the same, on screens and on paper."""

import datetime as dt

_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def date_print(day: dt.date) -> str:
    """Return a day with its month in letters; files have the ISO form instead.

    >>> date_print(dt.date(2026, 12, 7))
    '7 Dec 2026'
    """
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"
