"""The chance that a stranger's batch of a proposal does what the brief asks of its texture."""

import math
from collections.abc import Mapping
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from setwell.domain.kitchen_profile import HOME, KitchenProfile
from setwell.engine.gelling.doubt import Corrections
from setwell.engine.gelling.state import NO, YES
from setwell.engine.proposals.predicted import Predicted, predicted_of
from setwell.engine.proposals.results import Chance
from setwell.engine.proposals.wish_windows import OPEN, Wish, distances
from setwell.engine.robustness.draws import Case, batches
from setwell.engine.robustness.run import law_half_width
from setwell.engine.robustness.spreads import factors_of
from setwell.engine.rules.bench import Bench
from setwell.science.designs.quasi_random import sobol_points

Array = NDArray[np.float64]

DRAWS = 256
# What the texture map and the thickness of a batch are told by.
_TEXTURE = frozenset({"sets", "modulus", "stress", "strain", "thickness"})
# The laws are taken to be off by so many amounts between their ends.
_LAW_STEPS = 21


def chance_of(
    bench: Bench,
    wishes: tuple[Wish, ...],
    *,
    profile: KitchenProfile = HOME,
    draws: int = DRAWS,
    seed: int = 1,
    corrections: Mapping[str, Corrections] | None = None,
) -> Chance | None:
    """Return the chance that all wishes on texture hold elsewhere; None without such a wish.

    None, too, where a wish is left open because nothing computes what it is about.

    `low` and `high` are the chance with the laws in doubt, for all strangers alike, and twice
    the error of so few draws. `draws` are rounded up to a power of two.
    """
    asked = texture_wishes(wishes)
    if not asked:
        return None
    case = Case(
        bench.plan, bench.steps, bench.plan.line_masses()[0], bench.state, profile,
        corrections or {},
    )  # fmt: skip
    factors = factors_of(case)
    width = sum(factor.columns for factor in factors)
    points = _points(width, math.ceil(math.log2(max(draws, 2))), seed)
    found = predicted_of(batches(case, factors, points))
    if _is_open(found, asked):
        return None
    return _chance(found, asked, law_half_width(case), profile)


def texture_wishes(wishes: tuple[Wish, ...]) -> tuple[Wish, ...]:
    """Return the wishes on how it sets, stands, breaks and flows."""
    return tuple(
        wish for wish in wishes if all(window.quantity in _TEXTURE for window in wish.windows)
    )


def _is_open(found: Predicted, wishes: tuple[Wish, ...]) -> bool:
    """True where a wish looks at what no batch has a number for, and that is no miss."""
    return any(
        window.if_nan == OPEN and bool(np.isnan(getattr(found, window.quantity)).all())
        for wish in wishes
        for window in wish.windows
    )


@lru_cache(maxsize=16)
def _points(width: int, doublings: int, seed: int) -> Array:
    """Return the kitchens; all proposals of a brief meet the same ones."""
    points = sobol_points(width, doublings=doublings, scrambles=1, seed=seed)
    points.setflags(write=False)
    return points


def _chance(
    found: Predicted, wishes: tuple[Wish, ...], doubt: float, profile: KitchenProfile
) -> Chance:
    """Return the chance with its ends: laws off by up to `doubt` on the log axis, few draws."""
    count = len(found.sets)
    shifts = np.linspace(-doubt, doubt, _LAW_STEPS) if doubt > 0 else np.zeros(1)
    shares = [_shares(found, wishes, shifts, is_strict=strict) for strict in (True, False)]
    value = float(_shares(found, wishes, np.zeros(1), is_strict=False)[0])
    # All hits or all misses of n draws still leave about 1 / n.
    error = max(math.sqrt(value * (1.0 - value) / count), 1.0 / count)
    low, high = min(value, float(np.min(shares))), max(value, float(np.max(shares)))
    return Chance(
        profile.name, value, max(low - 2.0 * error, 0.0), min(high + 2.0 * error, 1.0), count
    )


def _shares(found: Predicted, wishes: tuple[Wish, ...], shifts: Array, *, is_strict: bool) -> Array:
    """Return which share of the batches meets all wishes, for laws off by each shift.

    A gel that may or may not form counts as one, and with `is_strict` as none.
    """
    factor = np.exp(shifts)[:, None]
    shape = (len(shifts), len(found.sets))
    stands = found.sets == YES if is_strict else found.sets > NO
    gel = np.where(stands, 1.0, 0.0) if is_strict else 1.0
    parts = {name: np.broadcast_to(part, shape) for name, part in found._asdict().items()}
    parts["sets"] = np.broadcast_to(np.where(stands, YES, NO).astype(np.int8), shape)
    parts["modulus"] = found.modulus * gel * factor
    parts["stress"] = found.stress * gel * factor
    parts["thickness"] = found.thickness * factor
    off = distances(wishes, Predicted(**parts))
    return np.asarray((off <= 0.0).all(axis=0).mean(axis=-1))
