"""The water phase of a batch: sugar, alcohol, density, ions, pH and what follows from them."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from setwell.engine.acidity import Acidity, acidity
from setwell.engine.free_ions import FreeIons, free_ions
from setwell.engine.material import MINERALS, NUTRIENT_INDEX, Material, Span
from setwell.engine.rollup import Composition
from setwell.engine.solids import Solids, solids
from setwell.engine.spans import Spans
from setwell.science.solution.mixture import alcohol_by_volume, degrees_brix, density_additive
from setwell.tables.heat import component_densities, spirit_densities

Array = NDArray[np.float64]

# Standard atomic weights, g/mol, conventional values (IUPAC 2021).
MOLAR_MASS = {"sodium": 22.990, "potassium": 39.098, "calcium": 40.078, "magnesium": 24.305}


@dataclass(frozen=True, slots=True)
class WaterPhase:
    """State of the water phase of n batches."""

    water_g: Array
    brix: Spans
    alcohol_by_volume: Spans
    density: Spans
    ions: dict[str, Spans]
    ph: Spans
    acidity: Acidity
    solids: Solids
    free: FreeIons
    has_ph: NDArray[np.bool_]
    # Whether `ph` is a reading on this very batch.
    is_measured: bool
    milk_protein_share: Array

    def ion(self, name: str) -> Spans:
        """Return one ion in mmol per kg of water."""
        return self.ions[name]


def water_phase(
    masses: Array,
    materials: tuple[Material, ...],
    composition: Composition,
    *,
    measured_ph: Span | None = None,
    ph_offset: float = 0.0,
) -> WaterPhase:
    """Return the water phase of n batches of k materials; a measured pH wins over the computed."""
    water = composition.of("water_g")
    density = _density(composition)
    sugars = composition.of("sugars_g")
    half_sugar = composition.half_width[:, NUTRIENT_INDEX["sugars_g"]]
    brix = Spans(
        degrees_brix(sugars, water),
        degrees_brix(np.clip(sugars - half_sugar, 0.0, None), water),
        degrees_brix(sugars + half_sugar, water),
    )
    alcohol = composition.share("alcohol_g")
    abv = alcohol_by_volume(alcohol, density.value)
    acids = acidity(masses, materials, water)
    ions = _ions(masses, materials, water)
    ph = _ph(acids.ph, measured_ph, ph_offset)
    # What is held, and what a titration finds, follows the pH that counts.
    actual = acids if ph is acids.ph else acids.at_ph(ph)
    return WaterPhase(
        water_g=water,
        brix=brix,
        alcohol_by_volume=Spans(abv, abv * 0.95, abv * 1.05),
        density=density,
        ions=ions,
        ph=ph,
        acidity=acids,
        has_ph=acids.is_solved | (measured_ph is not None),
        is_measured=measured_ph is not None,
        solids=solids(masses, materials, water, actual),
        free=free_ions(masses, materials, water, actual, ions),
        milk_protein_share=_milk_protein(masses, materials, composition),
    )


def _ph(computed: Spans, measured: Span | None, offset: float) -> Spans:
    """Return the pH to go on with: measured, or computed and moved by an earlier reading."""
    if measured is not None:
        bounds = (measured.value, measured.low, measured.high)
        return Spans(*(np.full_like(computed.value, bound) for bound in bounds))
    if offset == 0.0:
        return computed
    # A reading on an earlier version takes half of the doubt away.
    value = np.clip(computed.value + offset, 0.0, 14.0)
    half = (computed.high - computed.low) / 4.0
    return Spans(value, np.clip(value - half, 0.0, 14.0), np.clip(value + half, 0.0, 14.0))


def _density(composition: Composition) -> Spans:
    """Density in kg/m3 without air; ±2 % for air and the table values."""
    table = component_densities()
    parts = {
        "water": composition.of("water_g"),
        "alcohol": composition.of("alcohol_g"),
        "protein": composition.of("protein_g"),
        "fat": composition.of("fat_g"),
        "ash": composition.of("ash_g"),
        "fiber": composition.of("fiber_g"),
    }
    carbohydrate = np.clip(composition.of("carbohydrate_g") - parts["fiber"], 0.0, None)
    amounts = np.stack([*parts.values(), carbohydrate], axis=1)
    total = amounts.sum(axis=1, keepdims=True)
    water_only = np.zeros_like(amounts)
    water_only[:, 0] = 1.0
    fractions = np.divide(amounts, total, out=water_only, where=total > 0)
    densities = [table[name].value for name in (*parts, "carbohydrate")]
    specific = 1.0 / density_additive(fractions, densities)
    value = 1.0 / (specific - _contraction(fractions[:, 0], fractions[:, 1]))
    return Spans(value, value * 0.98, value * 1.02)


def _contraction(water: Array, alcohol: Array) -> Array:
    """Return the volume that alcohol and water lose on mixing, m3 per kg of batch."""
    rows = spirit_densities()
    both = water + alcohol
    share = np.divide(alcohol, both, out=np.zeros_like(both), where=both > 0)
    apart = (1.0 - share) / rows[0].value + share / rows[-1].value
    mixed = 1.0 / np.interp(share, [r.ethanol for r in rows], [r.value for r in rows])
    return np.asarray(both * (apart - mixed))


def _ions(masses: Array, materials: tuple[Material, ...], water: Array) -> dict[str, Spans]:
    """Dissolved minerals in mmol per kg of water."""
    return {
        mineral: Spans(*(_per_kg(masses @ bound, water) for bound in bounds))
        for mineral, bounds in zip(MINERALS, _dissolved_per_gram(materials), strict=True)
    }


@lru_cache(maxsize=256)
def _dissolved_per_gram(materials: tuple[Material, ...]) -> Array:
    """Return mmol per g of each dissolved mineral: middle, low and high, (minerals, 3, k)."""
    found = np.zeros((len(MINERALS), 3, len(materials)))
    for position, mineral in enumerate(MINERALS):
        index = NUTRIENT_INDEX[f"{mineral}_mg"]
        content = np.array([m.nutrients[index] for m in materials], dtype=np.float64)
        spread = np.array([m.spread[index] for m in materials])
        share = np.array([_dissolved(m)[:, position] for m in materials]).reshape(-1, 3).T
        # mg per 100 g of food to mmol per g of food.
        per_gram = np.nan_to_num(content, nan=0.0) / 100.0 / MOLAR_MASS[mineral]
        found[position] = (
            per_gram * share * np.stack([np.ones_like(spread), 1 - spread, 1 + spread])
        )
    found.setflags(write=False)
    return found


def free_salts(
    masses: Array, materials: tuple[Material, ...], water: WaterPhase
) -> dict[str, Spans]:
    """Return the free minerals that do not come from gum powders, in mmol per kg of water.

    A gum's own counter-ions are counted through its charge, not twice.
    """
    is_food = np.array([m.agent is None for m in materials], dtype=np.float64)
    salts = _ions(masses * is_food, materials, water.water_g)
    for metal, free in water.free.metals.items():
        all_of_it = water.ions[metal]
        salts[metal] = Spans(
            *(
                salt * np.divide(part, whole, out=np.ones_like(part), where=whole > 0)
                for salt, part, whole in zip(salts[metal], free, all_of_it, strict=True)
            )
        )
    return salts


def _per_kg(amount: Array, water: Array) -> Array:
    kilograms = water / 1000.0
    return np.divide(amount, kilograms, out=np.zeros_like(amount), where=kilograms > 0)


def _dissolved(material: Material) -> Array:
    return np.ones((3, len(MINERALS))) if material.dissolved is None else material.dissolved


def _milk_protein(
    masses: Array, materials: tuple[Material, ...], composition: Composition
) -> Array:
    """Mass fraction of milk protein in the finished batch."""
    index = NUTRIENT_INDEX["protein_g"]
    milky = np.array([m.nutrients[index] if m.has_allergen("milk") else 0.0 for m in materials])
    finished = composition.finished_g
    brought = masses @ (np.nan_to_num(milky) / 100.0)
    share = np.divide(brought, finished, out=np.zeros_like(finished), where=finished > 0)
    return np.asarray(share)
