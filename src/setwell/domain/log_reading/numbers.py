"""A column of cells as numbers: decimal marks, units in the cell, and words that mean none."""

import math
import re
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from setwell.domain.log_reading.settings import DecimalMark, TemperatureUnit

Array = NDArray[np.float64]

# What loggers write when the probe is out, open or over its range.
_NOTHING = frozenset(
    {
        "", "-", "--", "---", "----", "-----", "n/a", "na", "n.a.", "nan", "null", "none", "nil",
        "ol", "o.l", "o.l.", "0l", "open", "err", "err.", "error", "fault", "fail", "invalid",
        "no data", "no probe", "over", "under", "hi", "lo", "out", "off", "short", "?", "*", "#n/a",
        "####", "overflow", "disconnected", "missing", "inf", "-inf",
    }
)  # fmt: skip
_NUMBER = re.compile(
    r"([+\-−–]?)\s*([0-9][0-9.,'\s]*|[.,][0-9]+)([eE][+-]?[0-9]+)?"
    r"\s*(?:(°|º|˚|deg\.?|degrees?)?\s*(c|f|k|celsius|centigrade|fahrenheit|kelvin)?)\s*",
    re.IGNORECASE,
)
_BY_LETTER = {
    "c": TemperatureUnit.CELSIUS,
    "f": TemperatureUnit.FAHRENHEIT,
    "k": TemperatureUnit.KELVIN,
}
_EXAMPLES = 3
_PLAIN = frozenset("0123456789+-.,eE \n")


@dataclass(frozen=True, slots=True)
class NumberColumn:
    """Numbers as written, NaN where there is none; `units` (n,) are letters, "" where untold."""

    values: Array
    units: NDArray[np.str_] | None = None
    unreadable: int = 0
    missing: int = 0
    examples: tuple[str, ...] = field(default=())


def numbers_read(cells: Sequence[str], decimal: DecimalMark) -> NumberColumn:
    """Return a column as numbers; a column without any text in it is read at once."""
    quick = _quick(cells, decimal)
    if quick is not None:
        return NumberColumn(quick)
    read = {cell: number_of(cell, decimal) for cell in set(cells)}
    values = np.array([read[cell][0] for cell in cells], dtype=np.float64)
    units = (
        np.array([read[cell][1] for cell in cells]) if any(u for _, u in read.values()) else None
    )
    counts = Counter(cell for cell in cells if math.isnan(read[cell][0]))
    words = [cell for cell in counts if not is_nothing(cell)]
    said = tuple(cell.strip()[:20] for cell in (words or [c for c in counts if c.strip()]))
    return NumberColumn(
        values,
        units,
        unreadable=sum(counts[cell] for cell in words),
        missing=sum(counts.values()) - sum(counts[cell] for cell in words),
        examples=said[:_EXAMPLES],
    )


def _quick(cells: Sequence[str], decimal: DecimalMark) -> Array | None:
    joined = "\n".join(cells)
    if not _PLAIN.issuperset(joined):
        return None
    if decimal is DecimalMark.COMMA:
        if "." in joined:
            return None
        joined = joined.replace(",", ".")
    elif "," in joined:
        return None
    try:
        return np.array(list(map(float, joined.split("\n"))), dtype=np.float64)
    except ValueError:
        return None


@lru_cache(maxsize=65_536)
def number_of(cell: str, decimal: DecimalMark) -> tuple[float, str]:
    """Return one cell as a number and the letter of its unit; NaN where it is none."""
    found = _NUMBER.fullmatch(cell.strip())
    if found is None:
        return float("nan"), ""
    sign, digits, power, _, unit = found.groups()
    # A mark that can only be the other one is read as that.
    plain = next((one for mark in _both(decimal) if (one := _plain_digits(digits, mark))), None)
    if plain is None:
        return float("nan"), ""
    value = float(plain + (power or ""))
    return (-value if sign and sign != "+" else value), (unit or "")[:1].lower()


def _both(first: DecimalMark) -> tuple[DecimalMark, DecimalMark]:
    is_point = first is DecimalMark.POINT
    return first, DecimalMark.COMMA if is_point else DecimalMark.POINT


def _plain_digits(digits: str, decimal: DecimalMark) -> str | None:
    point, group = (",", ".") if decimal is DecimalMark.COMMA else (".", ",")
    whole, mark, rest = digits.strip().partition(point)
    groups = re.split(rf"[{re.escape(group)}'\s]", whole)
    if len(groups) > 1 and not all(len(one) == 3 for one in groups[1:]):
        return None
    text = "".join(groups) + ("." + rest if mark else "")
    return text if re.fullmatch(r"\d+(\.\d*)?|\.\d+", text) else None


def is_nothing(cell: str) -> bool:
    """True for words that say there is no reading."""
    return cell.strip().casefold() in _NOTHING or not cell.strip("-*#. ")


def is_number(cell: str) -> bool:
    """True for a cell that is a number with either decimal mark."""
    return any(math.isfinite(number_of(cell, mark)[0]) for mark in DecimalMark)


def decimal_guess(cells: Iterable[str]) -> DecimalMark:
    """Return the decimal mark of cells that are numbers."""
    commas = points = 0
    for cell in cells:
        if not is_number(cell):
            continue
        last = max(cell.rfind(","), cell.rfind("."))
        if last >= 0:
            commas += cell[last] == ","
            points += cell[last] == "."
    return DecimalMark.COMMA if commas > points else DecimalMark.POINT


def celsius_of(values: Array, unit: TemperatureUnit) -> Array:
    """Return °C."""
    if unit is TemperatureUnit.FAHRENHEIT:
        return np.asarray((values - 32.0) / 1.8)
    return values - 273.15 if unit is TemperatureUnit.KELVIN else values


def unit_of_letter(letter: str) -> TemperatureUnit | None:
    """Return the unit a letter stands for."""
    return _BY_LETTER.get(letter[:1].lower())
