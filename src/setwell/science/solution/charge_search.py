"""The search for the pH at which charges balance, many mixtures at a time.

Every mixture stops by its own test and is left alone afterward, so that what is beside it in
a batch never changes its result.
"""

from typing import NamedTuple, Self

import numpy as np
from numpy.typing import ArrayLike, NDArray

from setwell.errors import OutOfRangeError
from setwell.science.solution.activity import activity_term_davies, activity_term_slope_davies
from setwell.science.solution.protonation import (
    LN10,
    Array,
    Columns,
    Loss,
    Prepared,
    Protonation,
    Rows,
)

# Limits of the search [-]; nothing edible comes near them.
PH_LEAST, PH_MOST = -1.0, 15.0
# Mixtures reckoned together, few enough that their arrays stay in the processor's cache.
BLOCK = 10_240
# Convergence is quadratic: after a step this small the next would be below 1e-9.
_SMALL_STEP = 2e-5
# Newton needs five to ten rounds; who is not done by then is bisected.
_ROUNDS = 30
# The first rounds go with half the digits, in half the time.
_COARSE_ROUNDS = 2
_LONGEST_STEP = 2.0 * LN10
# Where the first look is taken, at a usual strength of activity.
_SCALE = np.linspace(LN10 * PH_LEAST, LN10 * PH_MOST, 33)
_SCALE_HALVINGS = (8, 4, 2, 1)
_USUAL_PHI = np.array(0.1 * LN10)
# 16 pH units over 2^44 are nothing.
_HALVINGS = 44

# Some allocators hand the memory of a round back and fetch it anew for the next, which takes as
# long as the round itself, until a piece of this size has come and gone. Nothing is in it.
np.empty(2**23, dtype=np.uint8)


class Water(NamedTuple):
    """What water does at the temperature of each mixture.

    pkw : shape (n,) or one number, −log10 of the ion product [-].
    debye_huckel : shape (n,) or one number, for decadic logarithms [kg^0.5 mol^-0.5].
    """

    pkw: ArrayLike
    debye_huckel: ArrayLike


class State(NamedTuple):
    """Both sides of the charge and the ionic strength at a trial pH."""

    plus: Array
    minus: Array
    strength: Array
    hydrogen: Array
    hydroxide: Array
    loss: Loss
    phi: Array
    phi_slope: Array


class Mixtures(NamedTuple):
    """All that the balance of n mixtures needs."""

    protonation: Protonation
    # Strong ions and fully protonated acids together [mol/kg].
    fixed: Array
    # Part of the ionic strength that pH does not change [mol/kg].
    strong: Array
    ln_kw: Array
    debye_huckel: Array

    @staticmethod
    def each(value: ArrayLike, count: int, field: str) -> Array:
        """Return one number for each mixture."""
        numbers = np.asarray(value, dtype=np.float64)
        if numbers.ndim > 1 or (numbers.ndim == 1 and numbers.size not in (1, count)):
            message = f"{numbers.size} values of {field} do not fit {count} mixtures."
            raise OutOfRangeError(message, field=field, hint="Give one, or one for each.")
        return numbers if numbers.shape == (count,) else np.broadcast_to(numbers, (count,))

    @classmethod
    def of(
        cls,
        prepared: Prepared,
        strong_ion_difference: ArrayLike,
        water: Water,
        strong_ionic_strength: ArrayLike | None,
    ) -> Self:
        """Put together what the balance needs; unknown strong ions count as single charges."""
        count = prepared.totals.shape[1]
        difference = cls.each(strong_ion_difference, count, "strong_ion_difference")
        if strong_ionic_strength is None:
            strong = 0.5 * np.abs(difference)
        else:
            strong = cls.each(strong_ionic_strength, count, "strong_ionic_strength")
        return cls(
            prepared.protonation,
            difference + prepared.top,
            strong,
            -LN10 * cls.each(water.pkw, count, "pkw"),
            cls.each(water.debye_huckel, count, "debye_huckel"),
        )

    def rows(self, rows: Rows) -> "Mixtures":
        """Return some mixtures only."""
        return Mixtures(self.protonation.rows(rows), *(part[rows] for part in self[1:]))

    def coarse(self) -> "Mixtures":
        """Return the same mixtures with half the digits."""
        return Mixtures(self.protonation.coarse(), *(Columns.coarse(part) for part in self[1:]))

    def phi(self, strength: Array) -> Array:
        """Return the Davies term times ln 10 at an ionic strength."""
        term = activity_term_davies(strength, debye_huckel=self.debye_huckel)
        return (LN10 * term).astype(strength.dtype, copy=False)

    def state(self, x: Array, strength: Array) -> State:
        """Return the balance at x = pH ln 10 with activities at a trial ionic strength."""
        phi = self.phi(strength)
        loss = self.protonation.loss(x, phi)
        hydrogen, hydroxide = np.exp(phi - x), np.exp(phi + x + self.ln_kw)
        actual = self.strong + 0.5 * (hydrogen + hydroxide + loss.squares)
        # Far too low a trial has far too steep a slope, and would send the search astray.
        slope = activity_term_slope_davies(
            np.maximum(strength, actual), debye_huckel=self.debye_huckel
        ).astype(x.dtype, copy=False)
        return State(
            hydrogen + np.maximum(self.fixed, 0.0),
            hydroxide + loss.protons - np.minimum(self.fixed, 0.0),
            actual,
            hydrogen,
            hydroxide,
            loss,
            phi,
            LN10 * slope,
        )

    def settled(self, x: Array, *, is_single: bool = False) -> Array:
        """Return the ionic strength at a known pH.

        With `is_single`, strong ions of single charge are added until the charge is zero.
        """
        strength = self.strong + 0.1
        active = np.ones(strength.shape, dtype=np.bool_)
        for _ in range(_ROUNDS):
            at = self.state(x, strength)
            actual = at.strength
            by_phi = 0.5 * (at.hydrogen + at.hydroxide + at.loss.squares_by_phi)
            if is_single:
                short = at.minus - at.plus
                actual = actual + 0.5 * np.abs(short)
                short_by_phi = at.hydroxide + at.loss.protons_by_phi - at.hydrogen
                by_phi = by_phi + 0.5 * np.sign(short) * short_by_phi
            change = (actual - strength) / np.maximum(1.0 - by_phi * at.phi_slope, 0.5)
            following = np.maximum(strength + change, 0.01 * strength)
            is_moving = np.abs(following - strength) > _SMALL_STEP * strength
            strength = np.where(active, following, strength)
            active &= is_moving
            if not active.any():
                break
        return strength

    def scanned(self) -> Array:
        """Return a first x, between the two neighbors on a scale that enclose it."""
        fixed, kw = Columns.coarse(self.fixed), Columns.coarse(np.exp(self.ln_kw))
        least, most = np.minimum(fixed, 0.0), np.maximum(fixed, 0.0)
        hydrogen = Columns.coarse(np.exp(_USUAL_PHI - _SCALE))
        hydroxide = Columns.coarse(np.exp(_USUAL_PHI + _SCALE))
        lost = self.protonation.scale(_SCALE, _USUAL_PHI)

        def sides(place: NDArray[np.intp]) -> tuple[Array, Array]:
            minus = hydroxide.take(place, mode="clip")
            minus *= kw
            minus -= least
            minus += lost(place)
            return hydrogen.take(place, mode="clip") + most, minus

        place = np.full(len(kw), len(_SCALE) // 2)
        for half in _SCALE_HALVINGS:
            plus, minus = sides(place)
            place += 2 * half * (plus > minus) - half
        near = np.log(np.divide(*sides(place)))
        x, way = _SCALE.take(place), 2 * (near > 0.0) - 1
        far = np.log(np.divide(*sides(place + way)))
        share = np.clip(near / (near - far), 0.0, 1.0)
        return np.asarray(x + way * share * (_SCALE[1] - _SCALE[0]))

    def approached(self, strength: Array) -> tuple[Array, Array]:
        """Return x and the ionic strength near the balance, found with half the digits."""
        start, rough = self.scanned(), self.coarse()
        # As if every acid had one step: most of what the actual activity changes.
        x = Columns.coarse(start + _USUAL_PHI - self.phi(strength))
        near = Columns.coarse(strength)
        with np.errstate(all="ignore"):
            for _ in range(_COARSE_ROUNDS):
                x, near = _moved(rough, x, near)
        # Half the digits also reach less far; who gets lost there starts from the scale.
        is_lost = ~(np.isfinite(x) & np.isfinite(near))
        found, settled = x.astype(np.float64), near.astype(np.float64)
        if is_lost.any():
            found[is_lost], settled[is_lost] = start[is_lost], strength[is_lost]
        return found, settled

    def blocks(self) -> list[slice]:
        """Return the rows of mixtures to be reckoned together."""
        return [slice(at, at + BLOCK) for at in range(0, max(len(self.fixed), 1), BLOCK)]

    def balanced(self) -> tuple[Array, Array]:
        """Return x = pH ln 10 and the ionic strength of every mixture."""
        first = self.strong + 0.85 * np.abs(self.fixed) + 1e-4
        x, strength = self.approached(first)
        x, strength, is_stuck = _newton(self, x, strength)
        if is_stuck.any():
            stuck = np.flatnonzero(is_stuck)
            x[stuck], strength[stuck] = _bisected(self.rows(stuck), first[stuck])
        return x, strength


def _newton_step(state: State, strength: Array) -> tuple[Array, Array]:
    """Return the changes of x and of the ionic strength that would close both equations."""
    loss, hydrogen, hydroxide = state.loss, state.hydrogen, state.hydroxide
    # Logarithms of both sides are nearly straight in pH, the sides themselves are not.
    gap = np.log(state.plus / state.minus)
    share = hydrogen / state.plus
    gap_by_x = -share - (hydroxide + loss.protons_by_x) / state.minus
    gap_by_phi = share - (hydroxide + loss.protons_by_phi) / state.minus
    short = state.strength - strength
    short_by_x = 0.5 * (hydroxide - hydrogen + loss.squares_by_x)
    stiffness = 1.0 - 0.5 * (hydrogen + hydroxide + loss.squares_by_phi) * state.phi_slope
    # The second equation gives the strength for any x, which leaves one equation.
    pull = gap_by_phi * state.phi_slope / stiffness
    step = -(gap + pull * short) / (gap_by_x + pull * short_by_x)
    return step, (short + short_by_x * step) / stiffness


def _moved(mixtures: Mixtures, x: Array, strength: Array) -> tuple[Array, Array]:
    """Return x and the ionic strength after one step that stays within limits."""
    step, change = _newton_step(mixtures.state(x, strength), strength)
    step = np.minimum(np.maximum(step, -_LONGEST_STEP), _LONGEST_STEP)
    step += x
    change += strength
    return (
        np.minimum(np.maximum(step, LN10 * PH_LEAST), LN10 * PH_MOST),
        np.minimum(np.maximum(change, 0.01 * strength), 100.0 * strength),
    )


def _newton(
    mixtures: Mixtures, x: Array, strength: Array, rounds: int = _ROUNDS
) -> tuple[Array, Array, NDArray[np.bool_]]:
    """Return x, the ionic strength, and who has not settled."""
    active = np.ones(x.shape, dtype=np.bool_)
    for done in range(1, rounds + 1):
        next_x, next_strength = _moved(mixtures, x, strength)
        is_moving = np.abs(next_x - x) > _SMALL_STEP
        is_moving |= np.abs(next_strength - strength) > _SMALL_STEP * strength
        x = np.where(active, next_x, x)
        strength = np.where(active, next_strength, strength)
        active &= is_moving
        left = int(np.count_nonzero(active))
        if not left:
            break
        if 2 * left < len(x):
            # Those that are done no longer cost time.
            rows = np.flatnonzero(active)
            x[rows], strength[rows], active[rows] = _newton(
                mixtures.rows(rows), x[rows], strength[rows], rounds - done
            )
            break
    return x, strength, active


def _bisected(mixtures: Mixtures, strength: Array) -> tuple[Array, Array]:
    """Return x and the ionic strength by halving the whole range: slow and sure."""
    low = np.full(strength.shape, LN10 * PH_LEAST)
    high = np.full(strength.shape, LN10 * PH_MOST)
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        strength = mixtures.settled(middle)
        state = mixtures.state(middle, strength)
        is_low = state.plus > state.minus
        low, high = np.where(is_low, middle, low), np.where(is_low, high, middle)
    return 0.5 * (low + high), strength
