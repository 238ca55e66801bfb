"""Acids with their steps, the ions that bind to them, and equivalent masses."""

from collections.abc import Mapping
from functools import cache
from itertools import pairwise
from pathlib import Path
from types import MappingProxyType

from setwell.errors import TableError
from setwell.tables.reading import Line, once
from setwell.tables.solution.reading import FOLDER, known, needed, ranged, sheet_lines, whole
from setwell.tables.solution.rows import AcidStep, AcidSystem, Complex, TitratableAcid

CATIONS = frozenset({"calcium", "magnesium", "sodium", "potassium"})
_PROPERTIES = frozenset({"pk", "enthalpy", "heat_capacity"})
_UNITS = {"pk": "1", "enthalpy": "kJ/mol", "heat_capacity": "J/(mol K)"}
Steps = dict[str, dict[int, dict[str, Line]]]


@cache
def acid_systems(folder: Path = FOLDER) -> Mapping[str, AcidSystem]:
    """Return every acid system by key."""
    steps = _step_lines(folder)
    found: dict[str, AcidSystem] = {}
    for line in sheet_lines(folder, "acids", "acid", "name", "formula", "molar_mass", "charge"):
        key = once(line, line.required("acid"), found)
        found[key] = _acid(line, key, _steps(key, steps.pop(key, {})))
    if steps:
        raise TableError(f"dissociation.csv: no acid is called {next(iter(steps))}.")
    return MappingProxyType(found)


@cache
def complexes(folder: Path = FOLDER) -> tuple[Complex, ...]:
    """Return every ion pair."""
    acids = acid_systems(folder)
    found: dict[str, Complex] = {}
    columns = ("cation", "acid", "charge", "value", "low", "high", "ionic_strength")
    for line in sheet_lines(folder, "complexes", *columns):
        pair = _complex(line, acids)
        found[once(line, f"{pair.cation} {pair.acid} {pair.charge}", found)] = pair
    return tuple(found.values())


@cache
def titratable_acids(folder: Path = FOLDER) -> Mapping[str, TitratableAcid]:
    """Return the equivalent masses by the acid a result is printed as."""
    acids = acid_systems(folder)
    found: dict[str, TitratableAcid] = {}
    for line in sheet_lines(folder, "titratable", "expressed_as", "acid", "protons", "value"):
        key = once(line, line.required("expressed_as"), found)
        found[key] = TitratableAcid(
            key,
            known(line, "acid", acids, "acid"),
            whole(line, "protons"),
            line.number("value"),
            line.citation(),
        )
    return MappingProxyType(found)


def _step_lines(folder: Path) -> Steps:
    found: Steps = {}
    columns = ("acid", "step", "property", "value", "low", "high", "unit")
    for line in sheet_lines(folder, "dissociation", *columns):
        own = found.setdefault(line.required("acid"), {}).setdefault(whole(line, "step"), {})
        name = once(line, line.choice("property", _PROPERTIES), own)
        if line.required("unit") != _UNITS[name]:
            raise TableError(f"{line.place}: the unit of {name} must be {_UNITS[name]}.")
        own[name] = line
    return found


def _steps(key: str, lines: dict[int, dict[str, Line]]) -> tuple[AcidStep, ...]:
    if not lines or sorted(lines) != list(range(1, len(lines) + 1)):
        raise TableError(f"dissociation.csv: the steps of {key} must count up from 1.")
    steps = tuple(_step(key, lines[number]) for number in sorted(lines))
    if any(first.pk25 >= second.pk25 for first, second in pairwise(steps)):
        raise TableError(f"dissociation.csv: the pK of {key} must rise from step to step.")
    return steps


def _step(key: str, lines: dict[str, Line]) -> AcidStep:
    line = needed(lines, f"dissociation.csv: a step of {key}", "pk")
    heat = {name: own.number("value") for name, own in lines.items() if name != "pk"}
    return AcidStep(
        *ranged(line),
        enthalpy=heat.get("enthalpy"),
        heat_capacity=heat.get("heat_capacity"),
        citation=line.citation(),
    )


def _acid(line: Line, key: str, steps: tuple[AcidStep, ...]) -> AcidSystem:
    charge = whole(line, "charge")
    return AcidSystem(
        key=key,
        name=line.required("name"),
        formula=line.required("formula"),
        molar_mass=line.number("molar_mass"),
        charges=tuple(charge - lost for lost in range(len(steps) + 1)),
        steps=steps,
        citation=line.citation(),
        note=line.text("note"),
    )


def _complex(line: Line, acids: Mapping[str, AcidSystem]) -> Complex:
    acid, charge = known(line, "acid", acids, "acid"), whole(line, "charge")
    if charge not in acids[acid].charges or charge >= 0:
        raise TableError(f"{line.place}: {acid} has no anion of charge {charge}.")
    log_k, low, high = ranged(line)
    return Complex(
        cation=line.choice("cation", CATIONS),
        acid=acid,
        charge=charge,
        log_k=log_k,
        low=low,
        high=high,
        ionic_strength=line.number("ionic_strength"),
        citation=line.citation(),
        note=line.text("note"),
    )
