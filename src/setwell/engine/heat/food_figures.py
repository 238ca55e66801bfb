"""Heat properties of one candidate as figures for a page."""

from collections.abc import Mapping
from typing import Any

import numpy as np

from setwell.engine.assessment import Figure
from setwell.engine.heat.food_parts import COMPONENTS
from setwell.engine.heat.food_properties import FoodProperties
from setwell.engine.heat.frozen_food import ICE_EVIDENCE, frozen_food
from setwell.engine.heat.liquid_water import water_evidence
from setwell.engine.heat.mixing_rules import rule_evidence, rule_label
from setwell.engine.origins import density_evidence, nutrient_evidence
from setwell.engine.rules.bench import Bench
from setwell.engine.solids import solids_evidence
from setwell.engine.spans import Spans
from setwell.provenance import Evidence, evidence_join
from setwell.tables.heat.components import component_properties
from setwell.tables.heat.spirit_excess import spirit_excesses
from setwell.units import temperature_print

_FROZEN = "below freezing: properties of the unfrozen food"
# What a cook should know of each flag, and the figures it matters for.
_SAID: Mapping[str, tuple[str, tuple[str, ...]]] = {
    "extrapolated": ("Outside the range of the equations.", ("conductivity", "heat_capacity")),
    _FROZEN: (
        "Ice is left out here; it has figures of its own.",
        ("conductivity", "heat_capacity", "density", "diffusivity"),
    ),
    "incomplete composition": (
        "Part of the batch has no known composition, which widens the range.",
        ("conductivity", "heat_capacity", "density"),
    ),
    "alcohol": (
        "Alcohol and water together are less well known, which widens the range.",
        ("conductivity", "heat_capacity", "freezing"),
    ),
    "little water": (
        "With so little water it is open what surrounds what; the range covers both.",
        ("conductivity",),
    ),
    "melting fat": (
        "Fat that melts or sets takes or gives more heat; the range counts it.",
        ("heat_capacity",),
    ),
}


def food_flags(found: FoodProperties, row: int) -> tuple[str, ...]:
    """Return what makes the properties of one candidate doubtful."""
    masks = (
        found.is_extrapolated, found.is_frozen, found.is_incomplete,
        found.has_alcohol, found.has_little_water, found.has_melting_fat,
    )  # fmt: skip
    return tuple(flag for flag, mask in zip(_SAID, masks, strict=True) if mask[row])


def food_figures(bench: Bench, found: FoodProperties, row: int) -> tuple[Figure, ...]:
    """Return conductivity, heat capacity, density, diffusivity and freezing point.

    Below the freezing point ice, its conductivity and the heat to freeze follow.
    """
    flags, origins = food_flags(found, row), _Origins(bench, found, row)
    figures = [*_passing(found, origins, flags, row), *_holding(found, origins, flags, row)]
    if not np.isnan(found.freezing.value[row]):
        figures.append(_freezing(bench, found, origins, flags, row))
    if found.is_frozen[row]:
        figures += _frozen(found, origins, flags, row)
    return tuple(figures)


def _at(found: FoodProperties, row: int) -> str:
    return f"at {temperature_print(float(found.at_c[row]))}"


def _passing(
    found: FoodProperties, origins: "_Origins", flags: tuple[str, ...], row: int
) -> list[Figure]:
    """Return how well heat passes and how much of it a kilogram takes."""
    return [
        _figure(
            "conductivity",
            f"Heat conductivity {_at(found, row)}",
            found.conductivity,
            unit="W/(m·K)",
            model=f"{rule_label(found.mixing)}; components by temperature",
            evidence=origins.conductivity(),
            remark="How well heat passes: water 0.6, fat 0.17.",
            flags=flags,
            row=row,
        ),
        _figure(
            "heat_capacity",
            f"Heat capacity {_at(found, row)}",
            found.heat_capacity.scaled(1e-3),
            unit="kJ/(kg·K)",
            model="component shares added",
            evidence=origins.heat_capacity(),
            remark="Heat for one kilogram and one °C: water 4.2.",
            flags=flags,
            row=row,
        ),
    ]


def _holding(
    found: FoodProperties, origins: "_Origins", flags: tuple[str, ...], row: int
) -> list[Figure]:
    """Return what a liter weighs, and how fast temperature evens out."""
    return [
        _figure(
            "density",
            f"Density {_at(found, row)}",
            found.density.scaled(1e-3),
            unit="g/mL",
            model="component volumes added, carried from 20 °C",
            evidence=origins.density(),
            remark="With its air." if found.porosity[row] > 0 else "Without air bubbles.",
            flags=flags,
            row=row,
        ),
        _figure(
            "diffusivity",
            f"Thermal diffusivity {_at(found, row)}",
            found.diffusivity.scaled(1e6),
            unit="mm²/s",
            model="conductivity over density and heat capacity",
            evidence=origins.all(),
            remark="How fast the core follows the surface: wet foods lie near 0.14.",
            flags=flags,
            row=row,
        ),
    ]


def _freezing(
    bench: Bench, found: FoodProperties, origins: "_Origins", flags: tuple[str, ...], row: int
) -> Figure:
    is_in_range = bool(bench.state.water.solids.is_in_range[row])
    marks = () if is_in_range else ("outside the range of the model",)
    return _figure(
        "freezing",
        "Begins to freeze at",
        found.freezing,
        unit="°C",
        model="ice in balance with this water activity",
        evidence=origins.freezing(),
        flags=(*marks, *(flag for flag in flags if flag == "alcohol")),
        row=row,
    )


def _frozen(
    found: FoodProperties, origins: "_Origins", flags: tuple[str, ...], row: int
) -> list[Figure]:
    at = _at(found, row)
    one = slice(row, row + 1)
    ice = frozen_food(found.fractions[one], found.at_c[one], found.freezing.value[one])
    marks = tuple(flag for flag in flags if flag != _FROZEN)
    told: dict[str, Any] = {
        "flags": marks,
        "row": 0,
        "evidence": evidence_join([ICE_EVIDENCE, origins.freezing(), *origins.batch]),
    }
    return [
        _figure(
            "ice",
            f"Ice {at}",
            ice.ice.scaled(100.0),
            unit="%",
            model="dilute solution in balance with ice",
            remark="Share of the mass. Sugar and protein keep the rest of the water liquid.",
            **told,
        ),
        _figure(
            "frozen_conductivity",
            f"Heat conductivity with its ice, {at}",
            ice.conductivity,
            unit="W/(m·K)",
            model="Levy, between ice around the rest and the rest around ice",
            remark="Without air bubbles.",
            **told,
        ),
        _figure(
            "freezing_heat",
            f"Heat to freeze, down to {at.removeprefix('at ')}",
            ice.heat.scaled(1e-3),
            unit="kJ/kg",
            model="enthalpy of Chen from the freezing point on",
            remark="What the cold place takes out of each kilogram once ice begins.",
            **told,
        ),
    ]


def _figure(  # noqa: PLR0913 - a figure has that many sides
    key: str,
    label: str,
    spans: Spans,
    *,
    unit: str,
    model: str,
    evidence: Evidence,
    flags: tuple[str, ...],
    row: int,
    remark: str = "",
) -> Figure:
    said = [text for flag in flags if flag in _SAID for text, keys in [_SAID[flag]] if key in keys]
    estimate = spans.estimate(unit=unit, model=model, evidence=evidence, flags=flags, row=row)
    return Figure(key, label, estimate, " ".join(part for part in (remark, *said) if part))


class _Origins:
    """The citations behind each property of one candidate."""

    def __init__(self, bench: Bench, found: FoodProperties, row: int) -> None:
        origins = nutrient_evidence(bench.plan, bench.state, row)
        self.bench, self.found, self.row, self.sugars = bench, found, row, origins["sugars_g"]
        self.batch = [origins[key] for key in ("water_g", "fat_g", "carbohydrate_g")]
        self.named = [
            name
            for name, share in zip(COMPONENTS, found.fractions[row], strict=True)
            if share > 0 and name != "water"
        ]

    def conductivity(self) -> Evidence:
        """Return where the conductivity comes from."""
        own = self._components("conductivity")
        if self.found.porosity[self.row] > 0:
            own.append((component_properties()["conductivity", "air"].citation,))
        return evidence_join([water_evidence(), *own, rule_evidence(self.found.mixing),
                              *self.batch])  # fmt: skip

    def heat_capacity(self) -> Evidence:
        """Return where the heat capacity comes from."""
        own = self._components("heat_capacity")
        if "alcohol" in self.named:
            own.append(tuple(row.citation for row in spirit_excesses()))
        return evidence_join([water_evidence(), *own, *self.batch])

    def density(self) -> Evidence:
        """Return where the density comes from."""
        return evidence_join([density_evidence(self.bench.state, self.row), water_evidence(),
                              *self._components("density"), *self.batch])  # fmt: skip

    def all(self) -> Evidence:
        """Return what is behind the three that diffusivity is made of."""
        return evidence_join([self.conductivity(), self.heat_capacity(), self.density()])

    def freezing(self) -> Evidence:
        """Return where the freezing point comes from."""
        return evidence_join([solids_evidence(), self.sugars])

    def _components(self, name: str) -> list[Evidence]:
        return [(component_properties()[name, component].citation,) for component in self.named]
