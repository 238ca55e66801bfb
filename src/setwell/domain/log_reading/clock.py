"""A column of moments as seconds: dates, clocks, plain numbers and spreadsheet days."""

import datetime as dt
import re
from collections.abc import Sequence
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from setwell.domain.log_reading.numbers import numbers_read
from setwell.domain.log_reading.settings import DecimalMark, TimeForm

Array = NDArray[np.float64]
DAY_S = 86_400.0

# Spreadsheets count days from here; serial 60 is a day that never was, long before any log.
_SERIAL_START = dt.date(1899, 12, 30).toordinal()
_UNIX_START = dt.date(1970, 1, 1).toordinal()
_DATE = re.compile(r"(\d{1,4})[./\-](\d{1,2}|[A-Za-z]{3,9})[./\-](\d{1,4})")
_CLOCK = re.compile(
    r"(\d{1,4}):(\d{1,2})(?::(\d{1,2}(?:[.,]\d+)?))?\s*(?:([AaPp])\.?\s?[Mm]\.?)?"
    r"\s*(?:[Zz]|UTC|GMT)?\s*(?:([+-])(\d{2}):?(\d{2}))?"
)
# Between a day and its time: the letter of ISO 8601, or a comma.
_BETWEEN = re.compile(r"(?<=\d)T(?=\d)|, ?")
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_PER_UNIT = {
    TimeForm.SECONDS: 1.0,
    TimeForm.MILLISECONDS: 1e-3,
    TimeForm.MINUTES: 60.0,
    TimeForm.HOURS: 3_600.0,
    TimeForm.SERIAL_DAYS: DAY_S,
    TimeForm.UNIX_SECONDS: 1.0,
    TimeForm.UNIX_MILLISECONDS: 1e-3,
}
_NAN = float("nan")


def moments_read(cells: Sequence[str], form: TimeForm, decimal: DecimalMark) -> Array:
    """Return seconds, NaN where a cell cannot be read; dated forms count from day 1."""
    if form in _PER_UNIT:
        seconds = numbers_read(cells, decimal).values * _PER_UNIT[form]
        return np.asarray(seconds + _start_of(form) * DAY_S)
    if form in {TimeForm.CLOCK, TimeForm.MINUTES_CLOCK}:
        return _rolled_over(clock_read(cells, has_hours=form is TimeForm.CLOCK))
    return _dated(cells, form)


def _start_of(form: TimeForm) -> int:
    if form is TimeForm.SERIAL_DAYS:
        return _SERIAL_START
    return _UNIX_START if form in {TimeForm.UNIX_SECONDS, TimeForm.UNIX_MILLISECONDS} else 0


def _dated(cells: Sequence[str], form: TimeForm) -> Array:
    joined = _BETWEEN.sub(" ", "\n".join(cells))
    parts = [cell.strip().partition(" ") for cell in joined.split("\n")]
    days = {day: _ordinal(day, form) for day in {part[0] for part in parts}}
    if not any(part[2] for part in parts):
        clock = np.zeros(len(parts))
    else:
        clock = clock_read([part[2] or "0:00:00" for part in parts], has_hours=True)
    return np.asarray(np.array([days[part[0]] for part in parts]) * DAY_S + clock)


@lru_cache(maxsize=4_096)
def _ordinal(text: str, form: TimeForm) -> float:
    """Return the number of a day, NaN where the text is no such day."""
    found = _DATE.fullmatch(text.strip())
    if found is None:
        return _NAN
    first, second, third = found.groups()
    if len(first) > 2 or form is TimeForm.ISO:
        year, month, day = first, second, third
    elif second.isalpha() or form is TimeForm.DAY_FIRST:
        day, month, year = first, second, third
    else:
        month, day, year = first, second, third
    number = month if month.isdigit() else _month(month)
    try:
        century = 2_000 if len(year) <= 2 else 0
        return float(dt.date(century + int(year), int(number), int(day)).toordinal())
    except ValueError:
        return _NAN


def _month(name: str) -> str:
    short = name[:3].lower()
    return str(_MONTHS.index(short) + 1) if short in _MONTHS else "0"


def clock_read(cells: Sequence[str], *, has_hours: bool) -> Array:
    """Return seconds since midnight or since the start."""
    quick = _clock_quick(cells) if has_hours else None
    if quick is not None:
        return quick
    return np.array([_clock(cell.strip(), has_hours=has_hours) for cell in cells])


def _clock_quick(cells: Sequence[str]) -> Array | None:
    """Read h:mm:ss in all cells at once; None where one of them is anything else."""
    if not cells or any(cell.count(":") != 2 for cell in cells):
        return None
    joined = "\n".join(cells).replace("Z\n", "\n").removesuffix("Z")
    try:
        parts = np.array(list(map(float, joined.replace("\n", ":").split(":"))))
    except ValueError:
        return None
    hours, minutes, seconds = parts.reshape(-1, 3).T
    right = (parts >= 0).all() and (minutes < 60).all() and (seconds < 61).all()
    return np.asarray(hours * 3_600 + minutes * 60 + seconds) if right else None


def _clock(text: str, *, has_hours: bool) -> float:
    found = _CLOCK.fullmatch(text)
    if found is None:
        return _NAN
    first, second, third, half, sign, off_h, off_m = found.groups()
    if third is None and not has_hours:
        seconds = int(first) * 60.0 + int(second)
        return seconds if int(second) < 60 else _NAN
    hours, rest = int(first), float((third or "0").replace(",", "."))
    if int(second) > 59 or rest >= 61 or (half and not 1 <= hours <= 12):
        return _NAN
    if half:
        hours = hours % 12 + (12 if half in "pP" else 0)
    seconds = hours * 3_600 + int(second) * 60 + rest
    if sign:
        offset = (int(off_h) * 60 + int(off_m)) * 60
        seconds -= offset if sign == "+" else -offset
    return seconds


def _rolled_over(seconds: Array) -> Array:
    """Add a day at each midnight: where a clock falls by more than half a day."""
    if not np.isfinite(seconds).any():
        return seconds
    known = np.flatnonzero(np.isfinite(seconds))
    falls = np.concatenate([[False], np.diff(seconds[known]) < -DAY_S / 2])
    rolled = seconds.copy()
    rolled[known] += DAY_S * np.cumsum(falls)
    return rolled


def moment_text(seconds: float, form: TimeForm) -> str:
    """Return the moment as text, "" for forms that tell no day."""
    if not form.has_date or not np.isfinite(seconds):
        return ""
    day, rest = divmod(float(seconds), DAY_S)
    if not 1 <= day <= dt.date.max.toordinal():
        return ""
    moment = dt.datetime.fromordinal(int(day)) + dt.timedelta(seconds=round(rest))
    return moment.isoformat(sep=" ")
