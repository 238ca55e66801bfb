"""Cold places: what their machine takes out, what their air and shelves hold, what leaks in."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from setwell.errors import TableError
from setwell.provenance import Citation
from setwell.tables.reading import Line, rows_keyed, table_lines

FOLDER = Path(__file__).parent
_COLUMNS = (
    "kind", "quantity", "value", "low", "high", "unit", "grade", "source", "locator", "note",
)  # fmt: skip
QUANTITIES = ("power_per_liter", "store_per_liter", "leak_per_liter")


@dataclass(frozen=True, slots=True)
class ColdPlaceRow:
    """One figure of one kind of cold place, per liter inside."""

    kind: str
    quantity: str
    value: float
    low: float
    high: float
    unit: str
    citation: Citation
    note: str


@cache
def cold_place_rows(folder: Path = FOLDER) -> Mapping[tuple[str, str], ColdPlaceRow]:
    """Return the figures by kind of place and quantity."""
    lines = table_lines(folder / "cold_places.csv", _COLUMNS)
    return rows_keyed(lines, _row, key=lambda row: (row.kind, row.quantity))


def _row(line: Line) -> ColdPlaceRow:
    value, low, high = line.number("value"), line.number("low"), line.number("high")
    if not 0.0 < low <= value <= high:
        raise TableError(f"{line.place}: low, value and high do not rise.")
    return ColdPlaceRow(
        kind=line.required("kind"),
        quantity=line.choice("quantity", frozenset(QUANTITIES)),
        value=value,
        low=low,
        high=high,
        unit=line.required("unit"),
        citation=line.citation(),
        note=line.text("note"),
    )
