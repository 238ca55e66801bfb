"""Densities of the components of food."""

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
