"""Heat passed by surfaces: usual figures and their ranges for the places of a kitchen."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from setwell.errors import TableError
from setwell.provenance import Citation
from setwell.tables.reading import Line, rows_keyed, table_lines

FOLDER = Path(__file__).parent
_COLUMNS = (
    "situation", "value", "low", "high", "unit", "includes",
    "grade", "source", "locator", "note",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class SurfaceRow:
    """Heat passed in one situation [W/m2K], or a factor on it; None = a range only."""

    situation: str
    value: float | None
    low: float
    high: float
    unit: str
    includes: str
    citation: Citation
    note: str


@cache
def surface_rows(folder: Path = FOLDER) -> Mapping[str, SurfaceRow]:
    """Return the situations by key."""
    lines = table_lines(folder / "surfaces.csv", _COLUMNS)
    return rows_keyed(lines, _row, key=lambda row: row.situation)


def _row(line: Line) -> SurfaceRow:
    low, high = line.number("low"), line.number("high")
    value = line.number_or_none("value")
    if not 0.0 < low <= (low if value is None else value) <= high:
        raise TableError(f"{line.place}: low, value and high do not rise.")
    return SurfaceRow(
        situation=line.required("situation"),
        value=value,
        low=low,
        high=high,
        unit=line.choice("unit", frozenset({"W/m2K", "-"})),
        includes=line.required("includes"),
        citation=line.citation(),
        note=line.text("note"),
    )
