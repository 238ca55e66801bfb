"""Composition of a batch from the composition of its materials."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from setwell.engine.material import NUTRIENT_INDEX, Material
from setwell.engine.row_products import row_products

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Composition:
    """What a finished batch holds; arrays of shape (n, c) are grams or milligrams per batch.

    `unknown` (n, c) is True where a material in the batch was never analyzed for a nutrient:
    the amount is then a lower bound.
    """

    ingredients_g: Array
    finished_g: Array
    amount: Array
    half_width: Array
    unknown: NDArray[np.bool_]

    def of(self, nutrient: str) -> Array:
        """Return the amount of one nutrient in the batch, shape (n,)."""
        return np.asarray(self.amount[:, NUTRIENT_INDEX[nutrient]])

    def per_100g(self) -> tuple[Array, Array]:
        """Return amount and half width per 100 g of finished batch, each (n, c)."""
        scale = np.divide(
            100.0, self.finished_g, out=np.zeros_like(self.finished_g), where=self.finished_g > 0
        )[:, None]
        return self.amount * scale, self.half_width * scale

    def share(self, nutrient: str) -> Array:
        """Return the mass fraction of a nutrient given in grams, shape (n,)."""
        return np.divide(
            self.of(nutrient),
            self.finished_g,
            out=np.zeros_like(self.finished_g),
            where=self.finished_g > 0,
        )


def composition_roll_up(
    masses: Array, materials: tuple[Material, ...], evaporation: Array
) -> Composition:
    """Return the composition of n batches of k materials; steam takes only water with it.

    The range joins the natural variation of the materials in quadrature, as independent.
    """
    table, spread = composition_tables(materials)
    known = np.nan_to_num(table, nan=0.0)
    ingredients = masses.sum(axis=1)
    steam = ingredients * evaporation
    amount = row_products(masses, known / 100.0)
    half = np.sqrt(row_products(masses**2, (known * spread / 100.0) ** 2))
    unknown = row_products(np.abs(masses), np.isnan(table).astype(np.float64)) > 0
    water = NUTRIENT_INDEX["water_g"]
    amount[:, water] = np.clip(amount[:, water] - steam, 0.0, None)
    return Composition(ingredients, ingredients - steam, amount, half, unknown)


@lru_cache(maxsize=256)
def composition_tables(materials: tuple[Material, ...]) -> tuple[Array, Array]:
    """Return nutrients per 100 g and their relative spread, each (k, c)."""
    if not materials:
        empty = np.zeros((0, len(NUTRIENT_INDEX)))
        return empty, empty
    return (
        np.stack([material.nutrients for material in materials]),
        np.stack([material.spread for material in materials]),
    )
