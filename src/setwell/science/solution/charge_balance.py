"""pH of a water phase from its acids and strong ions, and the other way round."""

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from setwell.science.solution.activity import IONIC_STRENGTH_TRUSTED
from setwell.science.solution.charge_search import BLOCK, Mixtures, Water
from setwell.science.solution.protonation import LN10, AcidSystems, Array, Prepared


class ChargeBalance(NamedTuple):
    """pH of n mixtures, and what the solver knows about each."""

    ph: Array
    ionic_strength: Array
    residual: Array
    buffer_capacity: Array
    mean_charge: Array
    is_beyond_model: NDArray[np.bool_]


class StrongIons(NamedTuple):
    """Strong ion difference that a pH asks for."""

    difference: Array
    ionic_strength: Array
    is_beyond_model: NDArray[np.bool_]


def ph_charge_balance(
    totals: ArrayLike,
    strong_ion_difference: ArrayLike,
    *,
    acids: AcidSystems,
    water: Water,
    strong_ionic_strength: ArrayLike | None = None,
) -> ChargeBalance:
    """Return the pH at which the charges of each mixture cancel.

    Weak acids and titratable sites, strong ions and water; activities after Davies, with the
    ionic strength of the result itself.

    Parameters
    ----------
    totals : array_like, shape (n, s)
        Amount of each weak acid or site per mass of water, zero or more [mol/kg].
    strong_ion_difference : array_like, shape (n,)
        Charge of the strong cations less that of the strong anions [mol/kg].
    acids : AcidSystems
        Constants of the s systems at the temperature of each mixture [-].
    water : Water
        Ion product [-] and Debye-Hückel coefficient [kg^0.5 mol^-0.5].
    strong_ionic_strength : array_like or None, shape (n,)
        Half the sum of molality times squared charge of the strong ions; None where only
        their difference is known, which then counts as single charges [mol/kg].

    Returns
    -------
    ChargeBalance, shape (n,) and (n, s)
        pH [-], ionic strength [mol/kg], charge left over [mol/kg], buffer capacity with that
        of water [mol/kg], whether the ionic strength is above 0.5 mol/kg or the pH at the end
        of the search, and the mean charge of each system [-].

    Raises
    ------
    OutOfRangeError
        If shapes do not fit or an amount is below zero.

    Notes
    -----
    SID + [H] − [OH] + sum(T_j z_j(pH, I)) = 0 with pH = −log10 a(H). Newton on the logarithm
    of the ratio of both sides, jointly with the ionic strength; bisection between pH −1 and
    15 where that does not settle. The buffer capacity is taken at the ionic strength found.
    Valid for ionic strengths up to 0.5 mol/kg, without ion pairs.

    References
    ----------
    goldberg_2002
        Constants of the acids in use.
    van_slyke_1922
        Definition of the buffer capacity.

    Examples
    --------
    A tenth molal acetic acid, with its recalled constant:

    >>> acetic = AcidSystems(pk=[[4.756, np.nan, np.nan, np.nan]], top_charge=[0])
    >>> found = ph_charge_balance([[0.1]], [0.0], acids=acetic, water=Water(13.995, 0.5115))
    >>> found.ph.round(2)
    array([2.88])
    """
    prepared = Prepared.of(totals, acids)
    mixtures = Mixtures.of(prepared, strong_ion_difference, water, strong_ionic_strength)
    if len(mixtures.fixed) <= BLOCK:
        return _block_balance(prepared, mixtures)
    blocks = [
        _block_balance(prepared.rows(rows), mixtures.rows(rows)) for rows in mixtures.blocks()
    ]
    return ChargeBalance(*(np.concatenate(part) for part in zip(*blocks, strict=True)))


def _block_balance(prepared: Prepared, mixtures: Mixtures) -> ChargeBalance:
    """Return the balance of mixtures few enough to stay in the processor's cache."""
    x, strength = mixtures.balanced()
    phi = mixtures.phi(strength)
    hydrogen, hydroxide = np.exp(phi - x), np.exp(phi + x + mixtures.ln_kw)
    charges = prepared.charges(x, phi)
    residual = (hydrogen + mixtures.fixed) - (hydroxide + charges.protons)
    both = hydrogen + hydroxide + charges.protons + np.abs(mixtures.fixed)
    is_open = np.abs(residual) > 1e-8 * both
    return ChargeBalance(
        x / LN10,
        strength,
        residual,
        LN10 * (hydrogen + hydroxide + charges.protons_by_x),
        charges.mean,
        (strength > IONIC_STRENGTH_TRUSTED) | is_open,
    )


def strong_ion_difference_for_ph(
    totals: ArrayLike,
    ph: ArrayLike,
    *,
    acids: AcidSystems,
    water: Water,
    strong_ionic_strength: ArrayLike | None = None,
) -> StrongIons:
    """Return the strong ion difference that holds each mixture at its pH.

    For a food whose acids and pH are known while its minerals are not, or not to the digit.

    Parameters
    ----------
    totals : array_like, shape (n, s)
        Amount of each weak acid or site per mass of water, zero or more [mol/kg].
    ph : array_like, shape (n,)
        pH of each mixture [-].
    acids : AcidSystems
        Constants of the s systems at the temperature of each mixture [-].
    water : Water
        Ion product [-] and Debye-Hückel coefficient [kg^0.5 mol^-0.5].
    strong_ionic_strength : array_like or None, shape (n,)
        Half the sum of molality times squared charge of the strong ions; None where only
        their difference counts, as single charges [mol/kg].

    Returns
    -------
    StrongIons, shape (n,)
        Strong ion difference and ionic strength, and whether the latter is above 0.5 mol/kg
        [mol/kg].

    Raises
    ------
    OutOfRangeError
        If shapes do not fit or an amount is below zero.

    Notes
    -----
    SID = [OH] − [H] − sum(T_j z_j(pH, I)), solved for the ionic strength alone. The inverse of
    `ph_charge_balance`; valid for ionic strengths up to 0.5 mol/kg.

    References
    ----------
    goldberg_2002
        Constants of the acids in use.

    Examples
    --------
    Half of an acid is neutralized near its constant (recalled, 4.756):

    >>> acetic = AcidSystems(pk=[[4.756, np.nan, np.nan, np.nan]], top_charge=[0])
    >>> found = strong_ion_difference_for_ph(
    ...     [[0.1]], [4.66], acids=acetic, water=Water(13.995, 0.5115)
    ... )
    >>> found.difference.round(2)
    array([0.05])
    """
    prepared = Prepared.of(totals, acids)
    count = prepared.totals.shape[1]
    x = LN10 * Mixtures.each(ph, count, "ph")
    mixtures = Mixtures.of(prepared, 0.0, water, strong_ionic_strength)
    strength = mixtures.settled(x, is_single=strong_ionic_strength is None)
    state = mixtures.state(x, strength)
    return StrongIons(state.minus - state.plus, strength, strength > IONIC_STRENGTH_TRUSTED)
