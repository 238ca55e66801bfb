"""Water as a solvent, and the hardness of drinking water."""

from collections.abc import Mapping, Sequence
from functools import cache
from pathlib import Path
from types import MappingProxyType

from setwell.errors import TableError
from setwell.tables.reading import Line, once
from setwell.tables.solution.reading import FOLDER, figure, sheet_lines
from setwell.tables.solution.rows import Figure, HardnessUnit, WaterConstants

_PROPERTIES = frozenset({"davies_a", "davies_linear", "pkw"})
_IONS = frozenset({"calcium", "magnesium", "bicarbonate"})


@cache
def water_constants(folder: Path = FOLDER) -> WaterConstants:
    """Return the ion product of water and the constants of the Davies equation."""
    found: dict[str, list[Line]] = {name: [] for name in _PROPERTIES}
    for line in sheet_lines(folder, "water", "property", "temperature_c", "value", "unit"):
        found[line.choice("property", _PROPERTIES)].append(line)
    if len(found["davies_linear"]) != 1:
        raise TableError("water.csv: there must be one line of davies_linear.")
    davies_temperatures, davies_a = _curve("davies_a", found["davies_a"])
    pkw_temperatures, pkw = _curve("pkw", found["pkw"])
    citations = [line.citation() for lines in found.values() for line in lines]
    return WaterConstants(
        davies_temperatures=davies_temperatures,
        davies_a=davies_a,
        davies_linear=found["davies_linear"][0].number("value"),
        pkw_temperatures=pkw_temperatures,
        pkw=pkw,
        citations=tuple(sorted(set(citations), key=lambda c: (c.source, c.locator))),
    )


@cache
def hardness_presets(folder: Path = FOLDER) -> Mapping[str, Mapping[str, Figure]]:
    """Return the ions [mmol/L] of soft to very hard water by preset and ion."""
    found: dict[str, dict[str, Figure]] = {}
    for line in sheet_lines(folder, "hardness", "preset", "ion", "value", "low", "high", "unit"):
        own = found.setdefault(line.required("preset"), {})
        own[once(line, line.choice("ion", _IONS), own)] = figure(line)
    for preset, ions in found.items():
        if set(ions) != _IONS:
            raise TableError(f"hardness.csv: {preset} must have {', '.join(sorted(_IONS))}.")
    return MappingProxyType({preset: MappingProxyType(ions) for preset, ions in found.items()})


@cache
def hardness_units(folder: Path = FOLDER) -> Mapping[str, HardnessUnit]:
    """Return the units of water hardness by key."""
    found: dict[str, HardnessUnit] = {}
    for line in sheet_lines(folder, "hardness_units", "hardness_unit", "symbol", "value", "unit"):
        key = once(line, line.required("hardness_unit"), found)
        found[key] = HardnessUnit(
            key, line.required("symbol"), line.number("value"), line.citation()
        )
    return MappingProxyType(found)


def _curve(name: str, lines: Sequence[Line]) -> tuple[tuple[float, ...], tuple[float, ...]]:
    temperatures = tuple(line.number("temperature_c") for line in lines)
    if len(lines) < 2 or list(temperatures) != sorted(set(temperatures)):
        raise TableError(f"water.csv: the temperatures of {name} must rise.")
    return temperatures, tuple(line.number("value") for line in lines)
