"""What dissolved substances do to the water activity and to the taste."""

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from types import MappingProxyType

from setwell.errors import TableError
from setwell.tables.reading import Line, once
from setwell.tables.solution.reading import FOLDER, figure, grouped, needed, sheet_lines, whole
from setwell.tables.solution.rows import Figure, Solute

_PROPERTIES = frozenset({"molar_mass", "norrish_k", "osmotic_coefficient", "ions"})
_EFFECTS = frozenset({"noticed", "too_much"})


@cache
def solutes(folder: Path = FOLDER) -> Mapping[str, Solute]:
    """Return the substances that lower the water activity, by name."""
    columns = ("solute", "property", "value", "low", "high", "unit")
    lines = sheet_lines(folder, "water_activity", *columns)
    groups = grouped(lines, "solute", _PROPERTIES)
    return MappingProxyType({key: _solute(key, own) for key, own in groups.items()})


@cache
def taste_limits(folder: Path = FOLDER) -> Mapping[str, Mapping[str, Figure]]:
    """Return rough taste limits [mg/100 g] by substance and effect."""
    found: dict[str, dict[str, Figure]] = {}
    for line in sheet_lines(folder, "taste", "substance", "effect", "value", "low", "high", "unit"):
        own = found.setdefault(line.required("substance"), {})
        own[once(line, line.choice("effect", _EFFECTS), own)] = figure(line)
    return MappingProxyType({name: MappingProxyType(own) for name, own in found.items()})


def _solute(key: str, lines: Mapping[str, Line]) -> Solute:
    if ("norrish_k" in lines) == ("osmotic_coefficient" in lines):
        raise TableError(f"water_activity.csv: {key} needs norrish_k or osmotic_coefficient.")
    is_salt = "osmotic_coefficient" in lines
    ions = whole(needed(lines, f"water_activity.csv: {key}", "ions"), "value") if is_salt else 1
    return Solute(
        key=key,
        molar_mass=needed(lines, f"water_activity.csv: {key}", "molar_mass").number("value"),
        norrish_k=None if is_salt else figure(lines["norrish_k"]),
        osmotic_coefficient=figure(lines["osmotic_coefficient"]) if is_salt else None,
        ions=ions,
    )
