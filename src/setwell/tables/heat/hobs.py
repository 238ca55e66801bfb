"""Hobs: which share of their power reaches the food."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from setwell.errors import TableError
from setwell.provenance import Citation
from setwell.tables.reading import Line, rows_keyed, table_lines

FOLDER = Path(__file__).parent
_COLUMNS = ("kind", "value", "low", "high", "grade", "source", "locator", "note")


@dataclass(frozen=True, slots=True)
class HobRow:
    """The share of the power of one kind of hob that reaches the food."""

    kind: str
    value: float
    low: float
    high: float
    citation: Citation
    note: str


@cache
def hob_rows(folder: Path = FOLDER) -> Mapping[str, HobRow]:
    """Return the kinds of hob by name."""
    lines = table_lines(folder / "hobs.csv", _COLUMNS)
    return rows_keyed(lines, _row, key=lambda row: row.kind)


def _row(line: Line) -> HobRow:
    value, low, high = line.number("value"), line.number("low"), line.number("high")
    if not 0.0 < low <= value <= high <= 1.0:
        raise TableError(f"{line.place}: low, value and high do not rise between 0 and 1.")
    return HobRow(line.required("kind"), value, low, high, line.citation(), line.text("note"))
