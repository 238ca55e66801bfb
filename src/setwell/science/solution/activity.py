"""How much less an ion counts because other ions are around it."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

# Ionic strength up to which the Davies equation is trusted [mol/kg].
IONIC_STRENGTH_TRUSTED = 0.5
# Above this the equation turns upward without reason, so its value is held [mol/kg].
IONIC_STRENGTH_HELD = 1.0


def activity_term_davies(ionic_strength: ArrayLike, *, debye_huckel: ArrayLike) -> Array:
    """Return the Davies term that every activity coefficient shares.

    Parameters
    ----------
    ionic_strength : array_like, shape (...)
        Ionic strength, above zero [mol/kg].
    debye_huckel : array_like, shape (...)
        Debye-Hückel coefficient for decadic logarithms at the temperature [kg^0.5 mol^-0.5].

    Returns
    -------
    numpy.ndarray, shape (...)
        −log10 of the activity coefficient of a single charge [-].

    Notes
    -----
    f = A (sqrt(I) / (1 + sqrt(I)) − 0.3 I). Valid for I up to 0.5 mol/kg; above 1 mol/kg the
    value there is held, so that no solver runs away.

    References
    ----------
    davies_1962
        The equation, with 0.3.

    Examples
    --------
    >>> activity_term_davies(0.1, debye_huckel=0.5115).round(4)
    np.float64(0.1075)
    """
    strength = np.asarray(ionic_strength, dtype=np.float64)
    coefficient = np.asarray(debye_huckel, dtype=np.float64)
    held = np.minimum(strength, IONIC_STRENGTH_HELD)
    root = np.sqrt(held)
    return np.asarray(coefficient * (root / (1.0 + root) - 0.3 * held))


def activity_term_slope_davies(ionic_strength: ArrayLike, *, debye_huckel: ArrayLike) -> Array:
    """Return how the Davies term rises with ionic strength.

    Parameters
    ----------
    ionic_strength : array_like, shape (...)
        Ionic strength, above zero [mol/kg].
    debye_huckel : array_like, shape (...)
        Debye-Hückel coefficient for decadic logarithms at the temperature [kg^0.5 mol^-0.5].

    Returns
    -------
    numpy.ndarray, shape (...)
        Derivative of the term by the ionic strength [kg/mol].

    Notes
    -----
    df/dI = A (1 / (2 sqrt(I) (1 + sqrt(I))^2) − 0.3); zero above 1 mol/kg, where the term is
    held.

    References
    ----------
    davies_1962
        The equation that this is the derivative of.

    Examples
    --------
    >>> activity_term_slope_davies([0.1, 2.0], debye_huckel=0.5115).round(3)
    array([0.313, 0.   ])
    """
    strength = np.asarray(ionic_strength, dtype=np.float64)
    root = np.sqrt(strength)
    further = 1.0 + root
    slope = np.asarray(debye_huckel, dtype=np.float64) * (0.5 / (root * further * further) - 0.3)
    return np.where(strength < IONIC_STRENGTH_HELD, slope, 0.0)


def log_activity_davies(
    charge: ArrayLike, *, ionic_strength: ArrayLike, debye_huckel: ArrayLike
) -> Array:
    """Return the decadic logarithm of an ion's activity coefficient.

    Parameters
    ----------
    charge : array_like, shape (...)
        Charge number of the ion [-].
    ionic_strength : array_like, shape (...)
        Ionic strength, above zero [mol/kg].
    debye_huckel : array_like, shape (...)
        Debye-Hückel coefficient for decadic logarithms at the temperature [kg^0.5 mol^-0.5].

    Returns
    -------
    numpy.ndarray, shape (...)
        log10 of the activity coefficient, zero for an uncharged species [-].

    Notes
    -----
    log10 gamma = −A z^2 (sqrt(I) / (1 + sqrt(I)) − 0.3 I). Valid for I up to 0.5 mol/kg in
    water; at 0.1 mol/kg it is within about 0.02 of measured single salts. Sugar and alcohol
    change A, which the caller gives.

    References
    ----------
    davies_1962
        The equation, with 0.3.
    iupac_green_book
        Definition of the activity coefficient on the molality scale.

    Examples
    --------
    A double charge counts four times:

    >>> log_activity_davies([1, 2], ionic_strength=0.1, debye_huckel=0.5115).round(3)
    array([-0.108, -0.43 ])
    """
    number = np.asarray(charge, dtype=np.float64)
    term = activity_term_davies(ionic_strength, debye_huckel=debye_huckel)
    return np.asarray(-(number**2) * term)
