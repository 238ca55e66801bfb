"""Which column is what: names and units from the header, the time, and the probes."""

import itertools
import math
import re
from collections.abc import Sequence
from typing import NamedTuple

from setwell.domain.log_reading.numbers import is_nothing, is_number, number_of, unit_of_letter
from setwell.domain.log_reading.settings import (
    DecimalMark,
    ProbeColumn,
    ProbePlace,
    TemperatureUnit,
    TimeForm,
)

_UNIT = re.compile(
    r"(?:°|º|˚|\bdeg(?:rees?)?[.\s_]*)\s*([cfk])\b|\b(celsius|centigrade|fahrenheit|kelvin)\b"
    r"|[(\[/,_\s]\s*([cfk])\s*[)\]]?\s*$|^\s*([cfk])\s*$",
    re.IGNORECASE,
)
_TOLD = re.compile(
    r"(?:°|º|˚|\bdeg(?:rees?)?[.\s_]*)\s*([cfk])\b|\b(celsius|centigrade|fahrenheit|kelvin)\b"
    r"|\bunits?\b[\s:=;,|\"]*([cfk])\b",
    re.IGNORECASE,
)
_NOT_A_PROBE = re.compile(
    r"humid|feucht|humed|\bhum\b|\br\.?h\b|%|batt|volt|spannung|rssi|\blux\b|\bevent|marker?\b|^(?:no|nr|n|id|#|idx)\.?$|index|\bsample|record"
    r"|set ?point|alarm|serial|pressure|\bbar\b|hpa|dew|status|\bco2\b|power|watt|weight|\bph\b"
    r"|line|count",
    re.IGNORECASE,
)
# Units of something else, at the end of a name; letters that also name probes only in brackets.
_OTHER_UNIT = re.compile(
    r"[(\[]\s*(?:V|A|W|g|l|s|h|m)\s*[)\]]\s*$|(?:^|[(\[/,_\s])\s*(?:mV|VDC|mA|kW|Wh|kWh|lx|ppm|ppb"
    r"|[hkM]?Pa|mbar|psi|k?Hz|rpm|kg|ml|dBm?|k?ohms?|Ω|[mµu]S|m/s|km/h)\s*[)\]]?\s*$"
)
# Never a reading of food, not even in °C.
_NEVER_FOOD = re.compile(r"\bset ?-?points?\b|\bdew|\balarm|\blimit\b|\btarget\b", re.IGNORECASE)
# A probe called by a letter: “Probe C” names no unit unless it stands in brackets.
_CALLED = re.compile(
    r"\s*(?:probe|sensor|channel|ch|input|port|kanal|sonde|tc|thermocouple|batch|pot|vat)\s*"
    r"[\s_#-]\s*[A-Za-z]\s*",
    re.IGNORECASE,
)
_COUNTED = re.compile(r"^(?:no|nr|n|id|#|idx)\.?$|index|sample|record|line|count", re.IGNORECASE)
_IS_DATE = re.compile(r"\b(?:date|day|datum|jour)\b", re.IGNORECASE)
_IS_TIME = re.compile(
    r"time|elapsed|\bclock\b|zeit|heure|\bhora|\bdate|datum|moment|\bt\s*[/(\[]\s*(?:s|min|h|ms)\b"
    r"|^\s*(?:s|sec|secs|seconds|min|mins|minutes|h|hours|ms)\s*$",
    re.IGNORECASE,
)
_TIME_UNIT = re.compile(
    r"(?:^|[(\[/_,\s])(ms|milliseconds?|s|secs?|seconds?|mins?|minutes?|h|hrs?|hours?)[)\]]?\s*$",
    re.IGNORECASE,
)
# Which word puts a probe where; the first that is found holds.
_PLACES = (
    (
        ProbePlace.CORE,
        re.compile(r"core|\bkern|c(?:oe|œ)ur", re.IGNORECASE),
    ),
    (
        ProbePlace.FRIDGE,
        re.compile(
            r"fridge|refrig|chamber|cabinet|chiller|cooler|freezer|walk.?in|cold ?room|"
            r"k(?:ü|ue)hl|frigo|nevera",
            re.IGNORECASE,
        ),
    ),
    (
        ProbePlace.CORE,
        re.compile(r"cent(?:er|re)|middle|inner|inside", re.IGNORECASE),
    ),
    (ProbePlace.SURFACE, re.compile(r"surface|skin", re.IGNORECASE)),
    (ProbePlace.BOTTOM, re.compile(r"bottom|base", re.IGNORECASE)),
    (ProbePlace.TOP, re.compile(r"\btop\b|upper", re.IGNORECASE)),
    (
        ProbePlace.AIR,
        re.compile(r"\bair\b|ambient|(?<!mush)room|\boven|\bluft|\braum", re.IGNORECASE),
    ),
    (ProbePlace.BATH, re.compile(r"\bbath\b|jacket", re.IGNORECASE)),
)
_DATE_CELL = re.compile(r"\s*\d{1,4}[./\-](?:\d{1,2}|[A-Za-z]{3,9})[./\-]\d{1,4}\s*")
_DATED_CELL = re.compile(
    r"\s*\d{1,4}[./\-](?:\d{1,2}|[A-Za-z]{3,9})[./\-]\d{1,4}(?:T|,? +)\d{1,2}:.*"
)
_CLOCK_CELL = re.compile(r"\s*\d{1,4}:\d{1,2}(?::\d{1,2}(?:[.,]\d+)?)?\s*(?:[AaPp]\.?[Mm]\.?)?\s*")


# Above any probe, in °F or K; spreadsheet days and seconds since 1970 are far above.
_NO_TEMPERATURE = 5_000.0
# A letter alone at the end of a name.
_LETTERED = re.compile(r"(.*[\s_])([A-Za-z])\s*", re.DOTALL)


class Times(NamedTuple):
    """The columns of the time, from 1; 0 is none."""

    time: int
    date: int = 0


def cell_is_moment(cell: str) -> bool:
    """True for a date, a clock or both."""
    return any(form.fullmatch(cell) for form in (_DATE_CELL, _DATED_CELL, _CLOCK_CELL))


def cell_is_data(cell: str) -> bool:
    """True for what stands in the samples of a log."""
    return is_number(cell) or cell_is_moment(cell) or is_nothing(cell)


def unit_named(header: str) -> TemperatureUnit | None:
    """Return the unit of temperature that the head of a column names."""
    found = None if _CALLED.fullmatch(header) else _UNIT.search(header)
    return unit_of_letter(next(part for part in found.groups() if part)) if found else None


def unit_told(line: str) -> TemperatureUnit | None:
    """Return the unit that a line above the samples tells: with its sign, its word, or as such."""
    found = _TOLD.search(line)
    return unit_of_letter(next(part for part in found.groups() if part)) if found else None


def time_unit_named(header: str) -> TimeForm | None:
    """Return the form that the head of a time column names by its unit."""
    found = _TIME_UNIT.search(header)
    if found is None:
        return None
    letters = found[1].lower()
    if letters.startswith(("ms", "milli")):
        return TimeForm.MILLISECONDS
    return {"s": TimeForm.SECONDS, "m": TimeForm.MINUTES, "h": TimeForm.HOURS}[letters[0]]


def place_named(header: str) -> ProbePlace:
    """Return where a probe sits by the name of its column."""
    return next((place for place, word in _PLACES if word.search(header)), ProbePlace.FOOD)


def times_guess(headers: Sequence[str], columns: Sequence[Sequence[str]]) -> Times:
    """Return the columns of the time: by what is in the cells, then by the head."""
    dated = [k for k, cells in enumerate(columns, 1) if _mostly(cells, _DATED_CELL)]
    if dated:
        return Times(dated[0])
    dates = [k for k, cells in enumerate(columns, 1) if _mostly(cells, _DATE_CELL)]
    clocks = [k for k, cells in enumerate(columns, 1) if _mostly(cells, _CLOCK_CELL)]
    if clocks:
        return Times(clocks[0], dates[0] if dates else 0)
    if dates:
        return Times(dates[0])
    named = [
        k for k, head in enumerate(headers, 1)
        if _IS_TIME.search(head) and not _IS_DATE.fullmatch(head.strip()) and _rises(columns[k - 1])
    ]  # fmt: skip
    if named:
        return Times(named[0])
    large = [k for k, cells in enumerate(columns, 1) if _rises(cells) and _too_large(cells)]
    if large:
        return Times(large[0])
    return Times(_unnamed_time(headers, columns))


def _unnamed_time(headers: Sequence[str], columns: Sequence[Sequence[str]]) -> int:
    """Return a first column without a name that rises all the way, else 0."""
    if len(columns) < 2 or len(columns[0]) < 3:
        return 0
    head = headers[0].strip()
    named = unit_named(head) is not None or _COUNTED.search(head) is not None
    untold = not head or time_unit_named(head) is not None
    return 1 if untold and not named and _rises(columns[0]) else 0


def _too_large(cells: Sequence[str]) -> bool:
    """True for numbers that no probe in a kitchen shows."""
    return min(_values(cells), default=0.0) > _NO_TEMPERATURE


def is_counted_down(headers: Sequence[str], columns: Sequence[Sequence[str]]) -> bool:
    """True where a column of sample numbers falls all the way: the newest sample stands first."""
    for head, cells in zip(headers, columns, strict=True):
        values = _values(cells) if _COUNTED.search(head) else []
        falls = [late < early for early, late in itertools.pairwise(values)]
        if len(falls) > 1 and sum(falls) > 0.9 * len(falls):
            return True
    return False


def _mostly(cells: Sequence[str], pattern: re.Pattern[str]) -> bool:
    filled = [cell for cell in cells if cell.strip()]
    return bool(filled) and sum(bool(pattern.fullmatch(c)) for c in filled) > len(filled) / 2


def _values(cells: Sequence[str]) -> list[float]:
    read = []
    for cell in cells:
        value = number_of(cell, DecimalMark.COMMA if "," in cell else DecimalMark.POINT)[0]
        if math.isfinite(value):
            read.append(value)
    return read


def _rises(cells: Sequence[str]) -> bool:
    values = _values(cells)
    steps = [late - early for early, late in itertools.pairwise(values)]
    if not values or len(values) < len(cells) / 2:
        return False
    return sum(step >= 0 for step in steps) >= 0.8 * len(steps)


def probes_guess(
    headers: Sequence[str], columns: Sequence[Sequence[str]], times: Times
) -> tuple[ProbeColumn, ...]:
    """Return the columns that hold temperatures."""
    found: list[ProbeColumn] = []
    for number, (head, cells) in enumerate(zip(headers, columns, strict=True), start=1):
        if number in times or not _is_probe(head, cells):
            continue
        is_lettered = _CALLED.fullmatch(head) is not None or _is_lettered(head, headers)
        found.append(
            ProbeColumn(
                column=number,
                name=(head[:80] if is_lettered else _tidy(head)) or f"Probe {len(found) + 1}",
                unit=None if is_lettered else unit_named(head),
                place=place_named(head),
            )
        )
    return tuple(found)


def _is_lettered(head: str, headers: Sequence[str]) -> bool:
    """True for “Probe C” beside “Probe A”: the letter is a name and not a unit."""
    own = _LETTERED.fullmatch(head)
    if own is None:
        return False
    others = [one for other in headers if (one := _LETTERED.fullmatch(other)) is not None]
    letters = {one[2].lower() for one in others if one[1] == own[1]}
    return len(letters) > 1


def _is_probe(head: str, cells: Sequence[str]) -> bool:
    if _NEVER_FOOD.search(head) or _OTHER_UNIT.search(head):
        return False
    if _NOT_A_PROBE.search(head) and not (unit_named(head) and "%" not in head):
        return False
    if _IS_TIME.search(head) and unit_named(head) is None:
        return False
    filled = [cell for cell in cells if not is_nothing(cell)]
    if not filled:
        # All missing: still a probe when the head says so.
        return unit_named(head) is not None
    return sum(map(is_number, filled)) > len(filled) / 2


def _tidy(head: str) -> str:
    name = re.sub(r"[(\[]\s*[)\]]", "", _UNIT.sub("", head))
    return re.sub(r"[,\s]+\(", " (", name).strip(" \t_,;/-[(")[:80]
