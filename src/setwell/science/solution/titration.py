"""Curves of pH against added acid or base."""

from dataclasses import replace

import numpy as np
from numpy.typing import ArrayLike

from setwell.science.solution.charge_balance import ph_charge_balance
from setwell.science.solution.charge_search import Mixtures, Water
from setwell.science.solution.protonation import AcidSystems, Array


def ph_titration(
    totals: ArrayLike,
    strong_ion_difference: ArrayLike,
    *,
    added_base: ArrayLike,
    acids: AcidSystems,
    water: Water,
    strong_ionic_strength: ArrayLike | None = None,
) -> Array:
    """Return the pH of each mixture after each addition of strong base or acid.

    Parameters
    ----------
    totals : array_like, shape (n, s)
        Amount of each weak acid or site per mass of water, zero or more [mol/kg].
    strong_ion_difference : array_like, shape (n,)
        Charge of the strong cations less that of the strong anions before [mol/kg].
    added_base : array_like, shape (p,) or (n, p)
        Strong base per mass of water, such as sodium hydroxide; strong acid is negative
        [mol/kg].
    acids : AcidSystems
        Constants of the s systems at the temperature of each mixture [-].
    water : Water
        Ion product [-] and Debye-Hückel coefficient [kg^0.5 mol^-0.5].
    strong_ionic_strength : array_like or None, shape (n,)
        Half the sum of molality times squared charge of the strong ions before; None where
        only their difference is known [mol/kg].

    Returns
    -------
    numpy.ndarray, shape (n, p)
        pH after each addition [-].

    Raises
    ------
    OutOfRangeError
        If shapes do not fit or an amount is below zero.

    Notes
    -----
    SID = SID_0 + added, one charge balance for each point; water that comes with the addition
    is left out. Valid for ionic strengths up to 0.5 mol/kg.

    References
    ----------
    van_slyke_1922
        Titration curve as the sum of the buffers in it.

    Examples
    --------
    Acetic acid, not at all, half and fully neutralized (recalled constant):

    >>> acetic = AcidSystems(pk=[[4.756, np.nan, np.nan, np.nan]], top_charge=[0])
    >>> ph_titration([[0.1]], [0.0], added_base=[0.0, 0.05, 0.1], acids=acetic,
    ...     water=Water(13.995, 0.5115)).round(2)
    array([[2.88, 4.67, 8.77]])
    """
    amounts = np.atleast_2d(np.asarray(totals, dtype=np.float64))
    count = len(amounts)
    added = np.asarray(added_base, dtype=np.float64)
    added = np.broadcast_to(added, (count, added.shape[-1]))
    points = added.shape[1]
    difference = Mixtures.each(strong_ion_difference, count, "strong_ion_difference")
    strong = None
    if strong_ionic_strength is not None:
        before = Mixtures.each(strong_ionic_strength, count, "strong_ionic_strength")
        strong = (before[:, None] + 0.5 * np.abs(added)).ravel()
    pk = np.asarray(acids.pk, dtype=np.float64)
    repeated = acids if pk.ndim == 2 else replace(acids, pk=np.repeat(pk, points, axis=0))
    found = ph_charge_balance(
        np.repeat(amounts, points, axis=0),
        (difference[:, None] + added).ravel(),
        acids=repeated,
        water=Water(*(np.repeat(Mixtures.each(w, count, "water"), points) for w in water)),
        strong_ionic_strength=strong,
    )
    return found.ph.reshape(count, points)
