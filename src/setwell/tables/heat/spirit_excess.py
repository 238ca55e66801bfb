"""Heat capacity that alcohol and water gain on mixing."""

from dataclasses import dataclass
from functools import cache
from pathlib import Path

from setwell.errors import TableError
from setwell.provenance import Citation
from setwell.tables.reading import Line, table_lines

FOLDER = Path(__file__).parent
_COLUMNS = ("ethanol_mass_pct", "value", "low", "high", "unit", "grade", "source", "locator")
_UNIT = "J/kg/K"


@dataclass(frozen=True, slots=True)
class SpiritExcess:
    """Gain over the share-weighted mean [J/kg/K]; `ethanol` is the mass share of ethanol."""

    ethanol: float
    value: float
    low: float
    high: float
    citation: Citation


@cache
def spirit_excesses(folder: Path = FOLDER) -> tuple[SpiritExcess, ...]:
    """Return the gains from pure water to pure ethanol."""
    path = folder / "spirit_excess.csv"
    found = tuple(_row(line) for line in table_lines(path, _COLUMNS))
    shares = [row.ethanol for row in found]
    if shares != sorted(set(shares)) or not shares or (shares[0], shares[-1]) != (0.0, 1.0):
        raise TableError(f"{path.name}: the rows must rise from 0 to 100 %.")
    return found


def _row(line: Line) -> SpiritExcess:
    if line.required("unit") != _UNIT:
        raise TableError(f"{line.place}: the unit must be {_UNIT}.")
    share = line.number("ethanol_mass_pct") / 100.0
    value, low, high = (line.number(column) for column in ("value", "low", "high"))
    if not low <= value <= high:
        raise TableError(f"{line.place}: the value lies outside its range.")
    return SpiritExcess(share, value, low, high, line.citation())
