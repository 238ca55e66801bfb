"""The one place where the time is read."""

import datetime as dt


def now() -> dt.datetime:
    """Return this moment, with its time zone."""
    return dt.datetime.now(dt.UTC)


def today() -> dt.date:
    """Return the day it is in the kitchen."""
    return dt.datetime.now().astimezone().date()
