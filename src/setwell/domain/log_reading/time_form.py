"""How a time column writes its moments: guessed from all of it, with the doubt that is left."""

import re
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from setwell.domain.log_reading.clock import moments_read
from setwell.domain.log_reading.columns import cell_is_moment, time_unit_named
from setwell.domain.log_reading.notes import ReadingNote
from setwell.domain.log_reading.numbers import numbers_read
from setwell.domain.log_reading.settings import DecimalMark, TimeForm

_DATE = re.compile(r"\s*(\d{1,4})([./\-])(\d{1,2}|[A-Za-z]{3,9})[./\-](\d{1,4})")
_SAMPLE = 400
# Spreadsheet days of 1954 to 2119, and seconds since 1970 of 2001 to 2096.
_SERIAL = (20_000.0, 80_000.0)
_UNIX = (1e9, 4e9)
# A log seldom runs longer than this, so larger days are no serial number of one [d].
_LONGEST_DAYS = 400.0


class FormGuess(NamedTuple):
    """A form, and what to say where another one would fit as well."""

    form: TimeForm
    note: ReadingNote | None = None


def time_form_guess(cells: Sequence[str], head: str, decimal: DecimalMark) -> FormGuess:
    """Return how the moments of a column are written."""
    filled = [cell for cell in cells if cell.strip()]
    sample = filled[:: max(1, len(filled) // _SAMPLE)]
    if sum(map(cell_is_moment, sample)) > len(sample) / 2:
        if sum(_DATE.match(cell) is not None for cell in sample) > len(sample) / 2:
            return _dated(filled, decimal)
        return _clock(sample, head)
    return _numbers(filled, head, decimal)


def _dated(cells: Sequence[str], decimal: DecimalMark) -> FormGuess:
    days = {_day_of(cell) for cell in cells}
    found = [match for day in days if (match := _DATE.match(day))]
    if any(len(one[1]) > 2 for one in found):
        return FormGuess(TimeForm.ISO)
    if any(one[3].isalpha() for one in found) or any(int(one[1]) > 12 for one in found):
        return FormGuess(TimeForm.DAY_FIRST)
    if any(int(one[3]) > 12 for one in found):
        return FormGuess(TimeForm.MONTH_FIRST)
    is_american = found[0][2] == "/"
    usual = (TimeForm.MONTH_FIRST, TimeForm.DAY_FIRST)
    first, other = usual if is_american else usual[::-1]
    if len(days) > 1 and _largest_step(cells, other, decimal) < _largest_step(
        cells, first, decimal
    ):
        first, other = other, first
    told = "" if len(days) > 1 else " Within one day the minutes are the same either way."
    is_open = len(days) > 1 and not _runs_on(cells, first, decimal)
    note = ReadingNote(
        "date_order",
        f"The date “{found[0][0].strip()}” could be {first.value} or {other.value}; it was read "
        f"as {first.value}.{told}",
        "Change the form of the time if that is wrong.",
        field="time_form",
        is_doubt=is_open,
    )
    return FormGuess(first, note)


def _day_of(cell: str) -> str:
    return cell.strip().partition(" ")[0].partition("T")[0]


def _largest_step(cells: Sequence[str], form: TimeForm, decimal: DecimalMark) -> float:
    seconds = moments_read(cells, form, decimal)
    steps = np.abs(np.diff(seconds[np.isfinite(seconds)]))
    return float(steps.max()) if len(steps) else float("inf")


def _runs_on(cells: Sequence[str], form: TimeForm, decimal: DecimalMark) -> bool:
    """True where the days follow on each other without a break: then that order is right."""
    seconds = moments_read(cells, form, decimal)
    steps = np.diff(seconds[np.isfinite(seconds)])
    return bool(len(steps) > 1 and (steps >= 0).all() and steps.max() <= 5.0 * np.median(steps))


def _clock(sample: Sequence[str], head: str) -> FormGuess:
    parts = [cell.strip().split(":") for cell in sample if ":" in cell]
    if any(len(one) > 2 for one in parts) or any("m" in one[-1].lower() for one in parts):
        return FormGuess(TimeForm.CLOCK)
    bare = head.lower()
    if "mm:ss" in bare:
        return FormGuess(TimeForm.MINUTES_CLOCK)
    if "hh:mm" in bare or "h:mm" in bare:
        return FormGuess(TimeForm.CLOCK)
    # More than a day of hours is rare, and a clock never shows it.
    is_long = max((int(one[0]) for one in parts if one[0].isdecimal()), default=0) > 23
    form = TimeForm.MINUTES_CLOCK if is_long else TimeForm.CLOCK
    read_as = "minutes and seconds" if is_long else "hours and minutes"
    note = ReadingNote(
        "clock_parts",
        f"The time “{sample[0].strip()}” could be hours and minutes or minutes and seconds; it "
        f"was read as {read_as}.",
        "Change the form of the time if that is wrong: all durations depend on it.",
        field="time_form",
        is_doubt=True,
    )
    return FormGuess(form, note)


def _numbers(cells: Sequence[str], head: str, decimal: DecimalMark) -> FormGuess:
    named = time_unit_named(head)
    values = numbers_read(cells, decimal).values
    values = values[np.isfinite(values)]
    if len(values):
        low, span = float(values.min()), float(np.ptp(values))
        if 1e3 * _UNIX[0] <= low <= 1e3 * _UNIX[1]:
            return FormGuess(TimeForm.UNIX_MILLISECONDS)
        if _UNIX[0] <= low <= _UNIX[1]:
            return FormGuess(TimeForm.UNIX_SECONDS)
        if named is None and _SERIAL[0] <= low <= _SERIAL[1] and _has_fractions(values, span):
            return FormGuess(TimeForm.SERIAL_DAYS)
    if named is not None:
        return FormGuess(named)
    form = TimeForm.MINUTES if _is_sixtieths(values) else TimeForm.SECONDS
    note = ReadingNote(
        "time_unit",
        f"The time column does not say its unit; it was read as {form.value}.",
        "Change the form of the time if that is wrong: all durations depend on it.",
        field="time_form",
        is_doubt=True,
    )
    return FormGuess(form, note)


def _has_fractions(values: np.ndarray[tuple[int], np.dtype[np.float64]], span: float) -> bool:
    return span < _LONGEST_DAYS and bool((values % 1.0 != 0.0).any())


def _is_sixtieths(values: np.ndarray[tuple[int], np.dtype[np.float64]]) -> bool:
    """True where the steps are seconds written as parts of a minute."""
    steps = np.diff(values)
    steps = steps[steps > 0]
    if not len(steps) or float(np.median(steps)) >= 1.0:
        return False
    sixty = 60.0 * float(np.median(steps))
    return sixty >= 0.9 and abs(sixty - round(sixty)) < 0.02 and sixty % 6.0 != 0.0
