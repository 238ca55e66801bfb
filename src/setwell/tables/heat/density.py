"""Densities of the components of food, and of alcohol in water."""

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from setwell.errors import TableError
from setwell.provenance import Citation, Grade


@dataclass(frozen=True, slots=True)
class ComponentDensity:
    """Density of one component at 20 °C in kg/m3."""

    component: str
    value: float
    citation: Citation


@cache
def component_densities() -> Mapping[str, ComponentDensity]:
    """Return the densities by component."""
    path = Path(__file__).with_suffix(".csv")
    found = {}
    with path.open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            low, value, high = (float(row[name]) for name in ("low", "value", "high"))
            if not low <= value <= high:
                raise TableError(f"{path.name}: {row['component']} is outside its own range.")
            citation = Citation(row["source"], row["locator"], Grade(row["grade"]))
            found[row["component"]] = ComponentDensity(row["component"], value, citation)
    return found


@dataclass(frozen=True, slots=True)
class SpiritDensity:
    """Density of ethanol and water in kg/m3 at 20 °C; `ethanol` is the mass share of ethanol."""

    ethanol: float
    value: float
    citation: Citation


@cache
def spirit_densities() -> tuple[SpiritDensity, ...]:
    """Return the densities of ethanol and water, from pure water to pure ethanol."""
    path = Path(__file__).with_name("ethanol_water.csv")
    with path.open(encoding="utf-8", newline="") as file:
        found = tuple(
            SpiritDensity(
                float(row["ethanol_mass_pct"]) / 100.0,
                float(row["value"]),
                Citation(row["source"], row["locator"], Grade(row["grade"])),
            )
            for row in csv.DictReader(file)
        )
    shares = [row.ethanol for row in found]
    if shares != sorted(set(shares)) or (shares[0], shares[-1]) != (0.0, 1.0):
        raise TableError(f"{path.name}: the rows must rise from 0 to 100 %.")
    return found
