"""Walls of molds and pots: what they conduct, hold and radiate."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from setwell.errors import TableError
from setwell.provenance import Citation
from setwell.tables.reading import Line, rows_keyed, table_lines

FOLDER = Path(__file__).parent
_COLUMNS = (
    "material", "conductivity", "conductivity_low", "conductivity_high", "density",
    "heat_capacity", "thickness_mm", "emissivity", "grade", "source", "locator", "note",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class WallRow:
    """One material: W/mK, kg/m3, J/kgK, the usual thickness in mm and the emissivity."""

    material: str
    conductivity: float
    conductivity_low: float
    conductivity_high: float
    density: float
    heat_capacity: float
    thickness_mm: float
    emissivity: float
    citation: Citation
    note: str


@cache
def wall_rows(folder: Path = FOLDER) -> Mapping[str, WallRow]:
    """Return the materials by name."""
    lines = table_lines(folder / "walls.csv", _COLUMNS)
    return rows_keyed(lines, _row, key=lambda row: row.material)


def _row(line: Line) -> WallRow:
    names = _COLUMNS[1:8]
    numbers = {name: line.number(name) for name in names}
    low, high = numbers["conductivity_low"], numbers["conductivity_high"]
    if not 0.0 < low <= numbers["conductivity"] <= high:
        raise TableError(f"{line.place}: the conductivity is outside its own range.")
    if min(numbers.values()) <= 0.0 or numbers["emissivity"] > 1.0:
        raise TableError(f"{line.place}: a figure no wall can have.")
    return WallRow(
        material=line.required("material"),
        citation=line.citation(),
        note=line.text("note"),
        **numbers,
    )
