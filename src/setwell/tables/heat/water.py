"""Liquid water: a steam table from 0 to 150 °C."""

from dataclasses import dataclass
from functools import cache
from pathlib import Path

from setwell.errors import TableError
from setwell.provenance import Citation
from setwell.tables.reading import Line, table_lines

FOLDER = Path(__file__).parent
_FIGURES = (
    "temperature_c", "conductivity", "heat_capacity", "density",
    "viscosity_mpa_s", "expansion_per_mk",
)  # fmt: skip
_LEAST_ROWS = 4


@dataclass(frozen=True, slots=True)
class WaterRow:
    """Liquid water at one temperature [°C]; at one atmosphere, above 99.97 °C as it boils.

    Conductivity [W/m/K], heat capacity [J/kg/K], density [kg/m3], viscosity [Pa·s] and thermal
    expansion [1/K].
    """

    temperature_c: float
    conductivity: float
    heat_capacity: float
    density: float
    viscosity: float
    expansion: float
    citation: Citation


@cache
def water_rows(folder: Path = FOLDER) -> tuple[WaterRow, ...]:
    """Return the rows from cold to hot."""
    path = folder / "water.csv"
    found = tuple(
        _row(line) for line in table_lines(path, (*_FIGURES, "grade", "source", "locator"))
    )
    temperatures = [row.temperature_c for row in found]
    if len(found) < _LEAST_ROWS or temperatures != sorted(set(temperatures)):
        raise TableError(f"{path.name}: it takes four rows or more that rise in temperature.")
    return found


def _row(line: Line) -> WaterRow:
    celsius, conductivity, capacity, density, viscosity, expansion = (
        line.number(column) for column in _FIGURES
    )
    if not min(conductivity, capacity, density, viscosity) > 0:
        raise TableError(f"{line.place}: only expansion may be zero or less.")
    return WaterRow(
        celsius, conductivity, capacity, density, viscosity / 1000.0, expansion / 1e6,
        line.citation(),
    )  # fmt: skip
