"""The acids that foods bring, and what pure chemicals are made of."""

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from types import MappingProxyType

from setwell.errors import TableError
from setwell.tables.reading import Line, once
from setwell.tables.solution.acids import acid_systems
from setwell.tables.solution.reading import FOLDER, known, ranged, sheet_lines
from setwell.tables.solution.rows import Chemical, FoodAcid

ION_CHARGES: Mapping[str, int] = MappingProxyType(
    {"sodium": 1, "potassium": 1, "calcium": 2, "magnesium": 2, "chloride": -1, "sulfate": -2}
)
_DISSOLVES = frozenset({"freely", "slightly", "hardly"})
_KINDS = frozenset({"acid", "ion"})
Parts = dict[str, dict[str, dict[str, float]]]


@cache
def food_acids(folder: Path = FOLDER) -> Mapping[str, tuple[FoodAcid, ...]]:
    """Return the acids of each food by its key; a food without a figure is not there."""
    acids = acid_systems(folder)
    found: dict[str, dict[str, FoodAcid]] = {}
    for line in sheet_lines(folder, "food_acids", "key", "acid", "value", "low", "high", "unit"):
        own = found.setdefault(line.required("key"), {})
        acid = once(line, known(line, "acid", acids, "acid"), own)
        own[acid] = _food_acid(line, acid)
    return MappingProxyType({key: tuple(own.values()) for key, own in found.items()})


@cache
def chemicals(folder: Path = FOLDER) -> Mapping[str, Chemical]:
    """Return the pure salts and acids by food key."""
    parts = _parts(folder)
    found: dict[str, Chemical] = {}
    for line in sheet_lines(folder, "chemicals", "key", "formula", "molar_mass", "dissolves"):
        key = once(line, line.required("key"), found)
        own = parts.pop(key, {"acid": {}, "ion": {}})
        if not (own["acid"] or own["ion"]):
            raise TableError(f"{line.place}: chemical_parts.csv has no line for {key}.")
        found[key] = Chemical(
            key=key,
            formula=line.required("formula"),
            molar_mass=line.number("molar_mass"),
            dissolves=line.choice("dissolves", _DISSOLVES),
            acids=MappingProxyType(own["acid"]),
            ions=MappingProxyType(own["ion"]),
            citation=line.citation(),
            note=line.text("note"),
        )
    if parts:
        raise TableError(f"chemical_parts.csv: no chemical is called {next(iter(parts))}.")
    return MappingProxyType(found)


def _food_acid(line: Line, acid: str) -> FoodAcid:
    if line.required("unit") != "g/100 g":
        raise TableError(f"{line.place}: the unit must be g/100 g.")
    value, low, high = ranged(line)
    if low < 0 or high > 100:
        raise TableError(f"{line.place}: the range must lie between 0 and 100 g.")
    return FoodAcid(acid, value / 100, low / 100, high / 100, line.citation(), line.text("note"))


def _parts(folder: Path) -> Parts:
    names = {"acid": acid_systems(folder), "ion": ION_CHARGES}
    found: Parts = {}
    for line in sheet_lines(folder, "chemical_parts", "key", "kind", "part", "value", "unit"):
        kind = line.choice("kind", _KINDS)
        own = found.setdefault(line.required("key"), {"acid": {}, "ion": {}})[kind]
        own[once(line, known(line, "part", names[kind], kind), own)] = line.number("value")
    return found
