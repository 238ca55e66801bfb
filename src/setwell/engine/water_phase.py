"""The water phase of a batch: sugar, alcohol, density, ions and a first pH."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from setwell.engine.material import MINERALS, NUTRIENT_INDEX, Material
from setwell.engine.rollup import Composition
from setwell.engine.spans import Spans
from setwell.science.solution.acidity import ph_buffer_mixing
from setwell.science.solution.mixture import alcohol_by_volume, degrees_brix, density_additive
from setwell.tables.heat import component_densities, spirit_densities

Array = NDArray[np.float64]

# Standard atomic weights, g/mol, conventional values (IUPAC 2021).
MOLAR_MASS = {"sodium": 22.990, "potassium": 39.098, "calcium": 40.078, "magnesium": 24.305}
# Estimated pH is never trusted closer than this (our judgment, no source).
_LEAST_PH_HALF_WIDTH = 0.2


@dataclass(frozen=True, slots=True)
class WaterPhase:
    """State of the water phase of n batches."""

    water_g: Array
    brix: Spans
    alcohol_by_volume: Spans
    density: Spans
    ions: dict[str, Spans]
    ph: Spans
    ph_known_share: Array
    milk_protein_share: Array

    def ion(self, name: str) -> Spans:
        """Return one ion in mmol per kg of water."""
        return self.ions[name]


def water_phase(
    masses: Array, materials: tuple[Material, ...], composition: Composition
) -> WaterPhase:
    """Return the water phase of n batches of k materials."""
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
    ph, known_share = _acidity(masses, materials)
    return WaterPhase(
        water_g=water,
        brix=brix,
        alcohol_by_volume=Spans(abv, abv * 0.95, abv * 1.05),
        density=density,
        ions=_ions(masses, materials, water),
        ph=ph,
        ph_known_share=known_share,
        milk_protein_share=_milk_protein(masses, materials, composition),
    )


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
    ions = {}
    for position, mineral in enumerate(MINERALS):
        content = np.array(
            [m.nutrients[NUTRIENT_INDEX[f"{mineral}_mg"]] for m in materials], dtype=np.float64
        )
        spread = np.array([m.spread[NUTRIENT_INDEX[f"{mineral}_mg"]] for m in materials])
        share = np.array([_dissolved(m)[:, position] for m in materials]).reshape(-1, 3)
        # mg per 100 g of food to mmol per g of food.
        per_gram = np.nan_to_num(content, nan=0.0) / 100.0 / MOLAR_MASS[mineral]
        bounds = [
            masses @ (per_gram * share[:, 0]),
            masses @ (per_gram * share[:, 1] * (1.0 - spread)),
            masses @ (per_gram * share[:, 2] * (1.0 + spread)),
        ]
        per_kg = [_per_kg(amount, water) for amount in bounds]
        ions[mineral] = Spans(*per_kg)
    return ions


def salts_without_agents(
    masses: Array, materials: tuple[Material, ...], water: Array
) -> dict[str, Spans]:
    """Return the dissolved minerals that do not come from gum powders.

    A gum's own counter-ions are counted through its charge, not twice.
    """
    is_food = np.array([m.agent is None for m in materials], dtype=np.float64)
    return _ions(masses * is_food, materials, water)


def _per_kg(amount: Array, water: Array) -> Array:
    kilograms = water / 1000.0
    return np.divide(amount, kilograms, out=np.zeros_like(amount), where=kilograms > 0)


def _dissolved(material: Material) -> Array:
    return np.ones((3, len(MINERALS))) if material.dissolved is None else material.dissolved


def _acidity(masses: Array, materials: tuple[Material, ...]) -> tuple[Spans, Array]:
    """First pH estimate; the seam where the charge balance will take over."""
    ph = np.array([m.ph.value if m.ph else np.nan for m in materials])
    half = np.array([(m.ph.high - m.ph.low) / 2.0 if m.ph else np.nan for m in materials])
    capacity = np.array([m.buffering.value for m in materials])
    spread = np.array(
        [np.log(max(m.buffering.high, 1e-6) / max(m.buffering.low, 1e-6)) / 2 for m in materials]
    )
    mixed = ph_buffer_mixing(
        np.clip(masses, 0.0, None),
        ph,
        ph_half_width=half,
        buffer_capacity=capacity / 1000.0,
        capacity_log_half_width=spread,
    )
    # What has no known pH can pull either way: widen by its share of the batch.
    width = np.maximum(mixed.half_width, _LEAST_PH_HALF_WIDTH)
    width = width + 1.5 * (1.0 - mixed.known_share) * _unknown_matters(masses, materials)
    low = np.clip(mixed.ph - width, 0.0, 14.0)
    high = np.clip(mixed.ph + width, 0.0, 14.0)
    return Spans(mixed.ph, low, high), mixed.known_share


def _unknown_matters(masses: Array, materials: tuple[Material, ...]) -> Array:
    """Return 1 where a buffering food without a known pH is in the batch, else 0."""
    loud = np.array([m.ph is None and m.buffering.value > 1.0 for m in materials], dtype=np.float64)
    return ((np.abs(masses) @ loud) > 0).astype(np.float64)


def _milk_protein(
    masses: Array, materials: tuple[Material, ...], composition: Composition
) -> Array:
    """Mass fraction of milk protein in the finished batch."""
    index = NUTRIENT_INDEX["protein_g"]
    milky = np.array(
        [np.nan_to_num(m.nutrients[index]) * m.has_allergen("milk") / 100.0 for m in materials]
    )
    finished = composition.finished_g
    share = np.divide(masses @ milky, finished, out=np.zeros_like(finished), where=finished > 0)
    return np.asarray(share)
