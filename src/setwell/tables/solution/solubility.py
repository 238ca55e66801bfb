"""How much of a substance cold water dissolves."""

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from types import MappingProxyType

from setwell.errors import TableError
from setwell.tables.reading import Line, once
from setwell.tables.solution.reading import FOLDER, ranged, sheet_lines
from setwell.tables.solution.rows import Solubility

_UNIT = "g/100 g water"
_COLUMNS = ("solute", "name", "materials", "value", "low", "high", "unit")


@cache
def solubilities(folder: Path = FOLDER) -> Mapping[str, Solubility]:
    """Return what 100 g of water hold at 20 °C, by substance."""
    found: dict[str, Solubility] = {}
    taken: dict[str, str] = {}
    for line in sheet_lines(folder, "solubility", *_COLUMNS):
        key = once(line, line.required("solute"), found)
        materials = tuple(line.required("materials").split(";"))
        for material in materials:
            taken[once(line, material, taken)] = key
        found[key] = _solubility(line, key, materials)
    return MappingProxyType(found)


def _solubility(line: Line, key: str, materials: tuple[str, ...]) -> Solubility:
    if line.required("unit") != _UNIT:
        raise TableError(f"{line.place}: the unit must be {_UNIT}.")
    value, low, high = ranged(line)
    if low <= 0:
        raise TableError(f"{line.place}: the range must lie above zero.")
    name, note = line.required("name"), line.text("note")
    return Solubility(key, name, materials, value, low, high, line.citation(), note)
