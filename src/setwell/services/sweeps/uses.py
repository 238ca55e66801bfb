"""Functions that are worth a sweep: texture over a grid, and chance over many draws."""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from setwell.domain.formula import Formula
from setwell.domain.kitchen_profile import HOME, KitchenProfile
from setwell.engine.assess import bench_build
from setwell.engine.robustness.run import robustness
from setwell.engine.robustness.window import measures
from setwell.engine.sweep import assess_many

Array = NDArray[np.float64]


class TextureRows(NamedTuple):
    """The middle of each number for n variants.

    `sets` is yes 1, cannot tell 0, no -1. Stiffness and stress in kPa, thickness in mPa·s at slow
    stirring; NaN where there is no such thing.
    """

    sets: NDArray[np.int8]
    modulus: Array
    stress: Array
    strain: Array
    thickness: Array


class ChanceRow(NamedTuple):
    """One count of batches: the share in the window, and how many were drawn."""

    chance: Array
    draws: NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class ChanceAsk:
    """A formula, the kitchens it goes to, and how many batches one count draws."""

    formula: Formula
    profile: KitchenProfile = HOME
    draws: int = 4096


def texture_of(formula: Formula, masses: ArrayLike) -> TextureRows:
    """Return the texture of n variants of a formula, for a sweep over chunks of a grid.

    `masses` (n, L) are grams of the L lines that could be read, as for `assess_many`.
    """
    found = measures(assess_many(formula, masses).state)
    return TextureRows(*found)


def chance_of(ask: ChanceAsk, seed: int) -> ChanceRow:
    """Return the share of batches that land in the window, for a sweep over seeds.

    Counts of different seeds are independent; the chance of them all is their mean.
    """
    found = robustness(bench_build(ask.formula), ask.profile, draws=ask.draws, seed=seed)
    return ChanceRow(np.array(found.chance.value), np.array(found.draws))
