"""Hobs: which share of their power reaches the food."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from types import MappingProxyType

from setwell.errors import TableError
from setwell.provenance import Citation
from setwell.tables.reading import Line, table_lines

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
    found: dict[str, HobRow] = {}
    for line in table_lines(folder / "hobs.csv", _COLUMNS):
        row = _row(line)
        if row.kind in found:
            raise TableError(f"{line.place}: {row.kind} stands there twice.")
        found[row.kind] = row
    return MappingProxyType(found)


def _row(line: Line) -> HobRow:
    value, low, high = line.number("value"), line.number("low"), line.number("high")
    if not 0.0 < low <= value <= high <= 1.0:
        raise TableError(f"{line.place}: low, value and high do not rise between 0 and 1.")
    return HobRow(line.required("kind"), value, low, high, line.citation(), line.text("note"))
