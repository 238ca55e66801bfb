"""The buffering groups and the salts of cow's milk."""

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from types import MappingProxyType

from setwell.tables.reading import Line, once
from setwell.tables.solution.reading import (
    FOLDER,
    figure,
    grouped,
    needed,
    ranged,
    sheet_lines,
    whole,
)
from setwell.tables.solution.rows import Figure, MilkGroup

_PROPERTIES = frozenset({"amount", "pk", "slope", "charge"})


@cache
def milk_groups(folder: Path = FOLDER) -> Mapping[str, MilkGroup]:
    """Return the buffering groups of milk by name."""
    lines = sheet_lines(folder, "milk_groups", "group", "property", "value", "low", "high", "unit")
    groups = grouped(lines, "group", _PROPERTIES)
    return MappingProxyType({key: _group(key, own) for key, own in groups.items()})


@cache
def milk_salts(folder: Path = FOLDER) -> Mapping[tuple[str, str], Figure]:
    """Return the salts of milk by species and state."""
    found: dict[tuple[str, str], Figure] = {}
    taken: set[str] = set()
    columns = ("species", "state", "value", "low", "high", "unit")
    for line in sheet_lines(folder, "milk_salts", *columns):
        species, state = line.required("species"), line.required("state")
        taken.add(once(line, f"{species} {state}", dict.fromkeys(taken)))
        found[species, state] = figure(line)
    return MappingProxyType(found)


def _group(key: str, lines: Mapping[str, Line]) -> MilkGroup:
    amount, pk, slope, charge = (
        needed(lines, f"milk_groups.csv: {key}", name)
        for name in ("amount", "pk", "slope", "charge")
    )
    value, low, high = ranged(amount)
    return MilkGroup(
        key=key,
        amount=value,
        amount_low=low,
        amount_high=high,
        pk=ranged(pk)[0],
        slope=slope.number("value"),
        charge=whole(charge, "value"),
        citation=pk.citation(),
        note=pk.text("note"),
    )
