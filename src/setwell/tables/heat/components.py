"""Conductivity, density and heat capacity of the components of food over temperature."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from setwell.errors import TableError
from setwell.provenance import Citation
from setwell.tables.reading import Line, rows_keyed, table_lines

FOLDER = Path(__file__).parent
UNITS = {"conductivity": "W/m/K", "density": "kg/m3", "heat_capacity": "J/kg/K"}
_COLUMNS = (
    "property", "component", "c0", "c1", "c2", "low_c", "high_c", "unit",
    "grade", "source", "locator", "note",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class ComponentProperty:
    """One property of one component: c0 + c1 t + c2 t², t in °C between `low_c` and `high_c`."""

    name: str
    component: str
    coefficients: tuple[float, float, float]
    low_c: float
    high_c: float
    citation: Citation
    note: str


@cache
def component_properties(folder: Path = FOLDER) -> Mapping[tuple[str, str], ComponentProperty]:
    """Return the equations by property and component."""
    lines = table_lines(folder / "components.csv", _COLUMNS)
    return rows_keyed(lines, _row, key=lambda row: (row.name, row.component))


def _row(line: Line) -> ComponentProperty:
    name = line.choice("property", frozenset(UNITS))
    if line.required("unit") != UNITS[name]:
        raise TableError(f"{line.place}: the unit of {name} must be {UNITS[name]}.")
    low, high = line.number("low_c"), line.number("high_c")
    if not low < high:
        raise TableError(f"{line.place}: the temperatures must rise from low to high.")
    first, slope, square = (line.number(column) for column in ("c0", "c1", "c2"))
    for celsius in (low, high):
        if not first + slope * celsius + square * celsius**2 > 0:
            raise TableError(f"{line.place}: {name} falls to zero at {celsius:g} °C.")
    return ComponentProperty(
        name, line.required("component"), (first, slope, square), low, high,
        line.citation(), line.text("note"),
    )  # fmt: skip
