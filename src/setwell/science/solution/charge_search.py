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
    Loss,
    Prepared,
    Protonation,
    Rows,
)

# Limits of the search [-]; nothing edible comes near them.
PH_LEAST, PH_MOST = -1.0, 15.0
# Mixtures reckoned together, few enough that their arrays stay in the processor's cache.
BLOCK = 8192
# Convergence is quadratic: after a step this small the next would be below 1e-10.
_SMALL_STEP = 1e-5
# Newton needs five to ten rounds; who is not done by then is bisected.
_ROUNDS = 30
_LONGEST_STEP = 2.0 * LN10
# Where the first look is taken, at a usual strength of activity.
_SCALE = LN10 * np.arange(PH_LEAST, PH_MOST + 0.5)
_USUAL_PHI = np.array(0.1 * LN10)
# 16 pH units over 2^44 are nothing.
_HALVINGS = 44


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
        return np.broadcast_to(numbers, (count,))

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

    def state(self, x: Array, strength: Array) -> State:
        """Return the balance at x = pH ln 10 with activities at a trial ionic strength."""
        phi = LN10 * activity_term_davies(strength, debye_huckel=self.debye_huckel)
        loss = self.protonation.loss(x, phi)
        hydrogen, hydroxide = np.exp(phi - x), np.exp(phi + x + self.ln_kw)
        actual = self.strong + 0.5 * (hydrogen + hydroxide + loss.squares)
        # Far too low a trial has far too steep a slope, and would send the search astray.
        slope = activity_term_slope_davies(
            np.maximum(strength, actual), debye_huckel=self.debye_huckel
        )
        return State(
            hydrogen + np.maximum(self.fixed, 0.0),
            hydroxide + loss.protons + np.maximum(-self.fixed, 0.0),
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
        """Return a first x, between the two neighbors of a coarse scale that enclose it."""
        x = _SCALE[:, None]
        plus = np.exp(_USUAL_PHI - x) + np.maximum(self.fixed, 0.0)
        minus = np.exp(_USUAL_PHI + x) * np.exp(self.ln_kw) + np.maximum(-self.fixed, 0.0)
        for part in self.protonation.parts:
            lost = part.lost(_SCALE[:, None, None], _USUAL_PHI)
            for row, total in enumerate(part.totals):
                minus += total * lost[:, row]
        low = np.clip((plus > minus).sum(axis=0) - 1, 0, len(_SCALE) - 2)
        column = np.arange(len(low))
        near, far = (np.log(plus[at, column] / minus[at, column]) for at in (low, low + 1))
        return np.asarray(_SCALE[low] + np.clip(near / (near - far), 0.0, 1.0) * LN10)

    def blocks(self) -> list[slice]:
        """Return the rows of mixtures to be reckoned together."""
        return [slice(at, at + BLOCK) for at in range(0, max(len(self.fixed), 1), BLOCK)]

    def balanced(self) -> tuple[Array, Array]:
        """Return x = pH ln 10 and the ionic strength of every mixture."""
        first = self.strong + 0.5 * np.abs(self.fixed) + 1e-4
        x, strength, is_stuck = _newton(self, self.scanned(), first)
        if is_stuck.any():
            stuck = np.flatnonzero(is_stuck)
            x[stuck], strength[stuck] = _bisected(self.rows(stuck), first[stuck])
        return x, strength


def _newton_step(state: State, strength: Array) -> tuple[Array, Array]:
    """Return the changes of x and of the ionic strength that would close both equations."""
    loss, hydrogen, hydroxide = state.loss, state.hydrogen, state.hydroxide
    # Logarithms of both sides are nearly straight in pH, the sides themselves are not.
    gap = np.log(state.plus / state.minus)
    gap_by_x = -hydrogen / state.plus - (hydroxide + loss.protons_by_x) / state.minus
    gap_by_phi = hydrogen / state.plus - (hydroxide + loss.protons_by_phi) / state.minus
    short = state.strength - strength
    short_by_x = 0.5 * (hydroxide - hydrogen + loss.squares_by_x)
    stiffness = 1.0 - 0.5 * (hydrogen + hydroxide + loss.squares_by_phi) * state.phi_slope
    # The second equation gives the strength for any x, which leaves one equation.
    pull = gap_by_phi * state.phi_slope / stiffness
    step = -(gap + pull * short) / (gap_by_x + pull * short_by_x)
    return step, (short + short_by_x * step) / stiffness


def _newton(
    mixtures: Mixtures, x: Array, strength: Array, rounds: int = _ROUNDS
) -> tuple[Array, Array, NDArray[np.bool_]]:
    """Return x, the ionic strength, and who has not settled."""
    active = np.ones(x.shape, dtype=np.bool_)
    for done in range(1, rounds + 1):
        step, change = _newton_step(mixtures.state(x, strength), strength)
        step = np.clip(step, -_LONGEST_STEP, _LONGEST_STEP)
        next_x = np.clip(x + step, LN10 * PH_LEAST, LN10 * PH_MOST)
        next_strength = np.clip(strength + change, 0.01 * strength, 100.0 * strength)
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
