"""How much of an acid, base or salt brings a mixture to a pH."""

from typing import NamedTuple, Self

import numpy as np
from numpy.typing import ArrayLike, NDArray

from setwell.errors import OutOfRangeError
from setwell.science.solution.charge_balance import (
    ChargeBalance,
    ph_charge_balance,
    strong_ion_difference_for_ph,
)
from setwell.science.solution.charge_search import Mixtures, Water
from setwell.science.solution.protonation import AcidSystems, Array

_ROUNDS = 60
# How close the dose must come [kg/kg], and the pH to call it reached [-].
_SMALL_DOSE = 1e-14
_CLOSE_PH = 1e-6


class Additive(NamedTuple):
    """What a kilogram of an acid, base or salt brings.

    totals : shape (s,), amount of each weak acid or site [mol/kg].
    strong_ion_difference : charge of its strong cations less that of its strong anions [mol/kg].
    water : mass of water in it [kg/kg].
    """

    totals: ArrayLike
    strong_ion_difference: float = 0.0
    water: float = 0.0


class Dose(NamedTuple):
    """Amount of an additive for each of n mixtures, and the pH that it gives."""

    amount: Array
    ph: Array
    is_reachable: NDArray[np.bool_]


class _Bath(NamedTuple):
    """The mixtures, which each take a dose of the additive."""

    totals: Array
    difference: Array
    strong: Array | None
    acids: AcidSystems
    water: Water
    additive: Additive

    @classmethod
    def of(
        cls,
        totals: ArrayLike,
        difference: ArrayLike,
        strong: ArrayLike | None,
        acids: AcidSystems,
        water: Water,
        additive: Additive,
    ) -> Self:
        amounts = np.atleast_2d(np.asarray(totals, dtype=np.float64))
        count = len(amounts)
        return cls(
            amounts,
            Mixtures.each(difference, count, "strong_ion_difference"),
            None if strong is None else Mixtures.each(strong, count, "strong_ionic_strength"),
            acids,
            water,
            additive,
        )

    def dosed(self, dose: Array) -> tuple[Array, Array, Array | None]:
        """Return totals, strong ion difference and strong ionic strength per mass of water."""
        share = 1.0 / (1.0 + dose * self.additive.water)
        extra = dose * self.additive.strong_ion_difference
        brought = np.asarray(self.additive.totals, dtype=np.float64)
        totals = (self.totals + dose[:, None] * brought) * share[:, None]
        strong = None if self.strong is None else (self.strong + 0.5 * np.abs(extra)) * share
        return totals, (self.difference + extra) * share, strong

    def excess(self, dose: Array, target: Array) -> Array:
        """Return the strong charge beyond what the target asks for, nearly straight in dose."""
        totals, difference, strong = self.dosed(dose)
        needed = strong_ion_difference_for_ph(
            totals, target, acids=self.acids, water=self.water, strong_ionic_strength=strong
        )
        return (difference - needed.difference) * (1.0 + dose * self.additive.water)

    def balance(self, dose: Array) -> ChargeBalance:
        totals, difference, strong = self.dosed(dose)
        return ph_charge_balance(
            totals, difference, acids=self.acids, water=self.water, strong_ionic_strength=strong
        )


def _dose_between(bath: _Bath, target: Array, most: float) -> tuple[Array, NDArray[np.bool_]]:
    """Return the dose by false position, and whether its ends lie on both sides."""
    low, high = np.zeros(len(target)), np.full(len(target), most)
    at_low, at_high = bath.excess(low, target), bath.excess(high, target)
    is_between = (at_low == 0.0) | (np.sign(at_low) != np.sign(at_high))
    active = is_between & np.isfinite(at_low + at_high)
    dose, side = low, np.zeros(len(target))
    for _ in range(_ROUNDS):
        width = at_low - at_high
        straight = low + (high - low) * at_low / np.where(width == 0.0, 1.0, width)
        moved = np.where(active, straight, dose)
        value = bath.excess(moved, target)
        is_left = np.sign(value) == np.sign(at_low)
        # Illinois: an end that stays a second time counts half, or it would stay forever.
        before, side = side, np.where(is_left, -1, 1)
        weight = np.where(side == before, 0.5, 1.0)
        at_high = np.where(is_left, weight * at_high, value)
        at_low = np.where(is_left, value, weight * at_low)
        low, high = np.where(is_left, moved, low), np.where(is_left, high, moved)
        active = active & (np.abs(moved - dose) > _SMALL_DOSE + 1e-12 * moved) & (value != 0.0)
        dose = moved
        if not active.any():
            break
    return dose, is_between


def dose_for_ph(
    totals: ArrayLike,
    strong_ion_difference: ArrayLike,
    *,
    target_ph: ArrayLike,
    additive: Additive,
    acids: AcidSystems,
    water: Water,
    strong_ionic_strength: ArrayLike | None = None,
    most: float = 1.0,
) -> Dose:
    """Return how much of an additive brings each mixture to a pH.

    Parameters
    ----------
    totals : array_like, shape (n, s)
        Amount of each weak acid or site per mass of water, zero or more [mol/kg].
    strong_ion_difference : array_like, shape (n,)
        Charge of the strong cations less that of the strong anions before [mol/kg].
    target_ph : array_like, shape (n,)
        pH to reach [-].
    additive : Additive
        Acids and strong ion difference of a kilogram of the additive [mol/kg].
    acids : AcidSystems
        Constants of the s systems at the temperature of each mixture [-].
    water : Water
        Ion product [-] and Debye-Hückel coefficient [kg^0.5 mol^-0.5].
    strong_ionic_strength : array_like or None, shape (n,)
        Half the sum of molality times squared charge of the strong ions before; None where
        only their difference is known [mol/kg].
    most : float
        Largest dose, above zero, per mass of water in the mixture [kg/kg].

    Returns
    -------
    Dose, shape (n,)
        Dose per mass of water in the mixture [kg/kg], the pH with it and whether that is the
        target; where it is not, the dose is zero or `most`, whichever comes nearer [-].

    Raises
    ------
    OutOfRangeError
        If shapes do not fit, an amount is below zero, or `most` is zero or less.

    Notes
    -----
    SID(d) = SID_needed(totals(d), pH): at a known pH the charge balance is straight in the
    dose apart from the ionic strength, so false position finds it between zero and `most`.
    The pH is then solved anew as a check. Valid for ionic strengths up to 0.5 mol/kg.

    References
    ----------
    van_slyke_1922
        Dose as the buffer capacity summed over the way.

    Examples
    --------
    Sodium hydroxide (25 mol/kg) that half neutralizes a tenth molal acetic acid:

    >>> acetic = AcidSystems(pk=[[4.756, np.nan, np.nan, np.nan]], top_charge=[0])
    >>> lye = Additive(totals=[0.0], strong_ion_difference=25.0)
    >>> found = dose_for_ph([[0.1]], [0.0], target_ph=[4.67], additive=lye, acids=acetic,
    ...     water=Water(13.995, 0.5115))
    >>> found.amount.round(4), bool(found.is_reachable[0])
    (array([0.002]), True)
    """
    if not most > 0.0:
        message = f"The largest dose is {most:g} kg/kg."
        raise OutOfRangeError(message, field="most", hint="Give more than zero.")
    bath = _Bath.of(totals, strong_ion_difference, strong_ionic_strength, acids, water, additive)
    target = Mixtures.each(target_ph, len(bath.totals), "target_ph")
    dose, is_between = _dose_between(bath, target, most)
    none, all_of_it = bath.balance(np.zeros_like(dose)), bath.balance(np.full_like(dose, most))
    is_full_nearer = np.abs(all_of_it.ph - target) < np.abs(none.ph - target)
    dose = np.where(is_between, dose, np.where(is_full_nearer, most, 0.0))
    reached = bath.balance(dose).ph
    return Dose(dose, reached, is_between & (np.abs(reached - target) < _CLOSE_PH))
