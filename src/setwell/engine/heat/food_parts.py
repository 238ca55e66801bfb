"""What a batch is made of, as its heat properties see it."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from setwell.engine.material import NUTRIENT_INDEX
from setwell.engine.rollup import Composition

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

COMPONENTS = ("water", "alcohol", "protein", "fat", "carbohydrate", "fiber", "ash")
WATER, ALCOHOL, PROTEIN, FAT, SUGAR = range(5)
# Up to this share of the mass may be missing from the tables without a word.
_ROUNDING = 0.02
# Saturated part of a fat of which it is not known, as of butter, the hardest usual one.
_HARD_FAT = 0.65


@dataclass(frozen=True, slots=True)
class FoodParts:
    """Mass fractions of n batches: `middle`, `drier` and `wetter` are (n, c), summing to one.

    `missing` (n,) is the share of the mass that no table accounts for, `hard_fat` (n,) that of
    saturated fat, which is what melts in the kitchen.
    """

    middle: Array
    drier: Array
    wetter: Array
    missing: Array
    hard_fat: Array

    @property
    def is_incomplete(self) -> Mask:
        """True where more than a rounding error of the mass is not accounted for."""
        return np.asarray(self.missing > _ROUNDING)

    @property
    def spirit(self) -> Array:
        """Mass share of ethanol in the water and ethanol of each batch."""
        alcohol = self.middle[:, ALCOHOL]
        liquid = alcohol + self.middle[:, WATER]
        return np.divide(alcohol, liquid, out=np.zeros_like(liquid), where=liquid > 0)


def food_parts(composition: Composition) -> FoodParts:
    """Return the components of n batches, and how wet and how dry each may be."""
    amounts = np.stack([composition.of(f"{name}_g") for name in COMPONENTS], axis=1)
    amounts[:, SUGAR] -= composition.of("fiber_g")
    amounts = np.clip(amounts, 0.0, None)
    finished = composition.finished_g
    # Acids of fruit stand under carbohydrate already, those of vinegar and powders do not.
    uncounted = np.clip(finished - amounts.sum(axis=1), 0.0, None)
    amounts[:, SUGAR] += np.clip(composition.of("organic_acid_g"), 0.0, uncounted)
    total = amounts.sum(axis=1)
    only_water = np.zeros_like(amounts)
    only_water[:, WATER] = 1.0
    middle = np.divide(amounts, total[:, None], out=only_water, where=total[:, None] > 0)
    covered = np.divide(total, finished, out=np.ones_like(total), where=finished > 0)
    missing = np.clip(1.0 - covered, 0.0, 1.0)
    half = composition.half_width[:, NUTRIENT_INDEX["water_g"]]
    spread = np.divide(half, finished, out=np.zeros_like(half), where=finished > 0) + missing
    drier, wetter = (_moved(middle, by) for by in (-spread, spread))
    return FoodParts(middle, drier, wetter, missing, _hard_fat(composition, middle[:, FAT]))


def _hard_fat(composition: Composition, fat: Array) -> Array:
    unknown = composition.unknown[:, NUTRIENT_INDEX["saturated_fat_g"]]
    known = np.minimum(composition.share("saturated_fat_g"), fat)
    return np.asarray(np.where(unknown, np.maximum(known, _HARD_FAT * fat), known))


def _moved(middle: Array, by: Array) -> Array:
    """Return the fractions with more or less water, the rest making room in proportion."""
    water = middle[:, WATER]
    moved = np.clip(water + by, 0.0, 1.0)
    rest = 1.0 - water
    scale = np.divide(1.0 - moved, rest, out=np.zeros_like(rest), where=rest > 0)
    found = middle * scale[:, None]
    found[:, WATER] = moved
    # Where there was nothing but water, what takes its place counts as sugar.
    found[:, SUGAR] += np.where(rest > 0, 0.0, 1.0 - moved)
    return found
