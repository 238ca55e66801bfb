"""Cellulose ethers: thick when cold, a gel when hot."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def gelation_temperature(
    salt: ArrayLike,
    sugar: ArrayLike,
    *,
    reference_temperature: ArrayLike,
    rise_per_salt: ArrayLike,
    rise_per_sugar: ArrayLike,
) -> Array:
    """Return the temperature where a cellulose ether gels on heating, or melts on cooling.

    Parameters
    ----------
    salt : array_like, shape (...)
        Sodium chloride, or as much of other salts, per mass of water, zero or more [kg/kg].
    sugar : array_like, shape (...)
        Sugar in the water phase, zero or more [kg/kg].
    reference_temperature : array_like, shape (...)
        Temperature in water [K].
    rise_per_salt : array_like, shape (...)
        Rise for each share of salt; below zero [K].
    rise_per_sugar : array_like, shape (...)
        Rise for each share of sugar; below zero [K].

    Returns
    -------
    numpy.ndarray, shape (...)
        Gelling temperature [K].

    Notes
    -----
    T = T_0 + a w_salt + b w_sugar. Straight lines for up to 5 % of salt and 30 % of sugar; what
    takes water from the ether lets it gel sooner.

    References
    ----------
    trade_recalled
        Slopes.

    Examples
    --------
    2 % of salt:

    >>> t = gelation_temperature(0.02, 0.0, reference_temperature=324.65, rise_per_salt=-125.0,
    ...     rise_per_sugar=-20.0)
    >>> round(float(t) - 273.15, 1)
    49.0
    """
    by_salt = np.asarray(rise_per_salt) * np.asarray(salt, dtype=np.float64)
    by_sugar = np.asarray(rise_per_sugar) * np.asarray(sugar, dtype=np.float64)
    return np.asarray(np.asarray(reference_temperature) + by_salt + by_sugar)


def viscosity_of_grade(
    dose: ArrayLike,
    *,
    grade_viscosity: ArrayLike,
    reference_dose: float,
    solvent_viscosity: ArrayLike,
) -> Array:
    """Return the viscosity at rest of a cold solution from the grade on the label.

    Parameters
    ----------
    dose : array_like, shape (...)
        Dissolved ether per mass of batch, zero or more [kg/kg].
    grade_viscosity : array_like, shape (...)
        Viscosity at the reference dose in water, above that of water [Pa·s].
    reference_dose : float
        Dose the grade is stated for, above zero [kg/kg].
    solvent_viscosity : array_like, shape (...)
        Viscosity of the liquid without ether, above zero [Pa·s].

    Returns
    -------
    numpy.ndarray, shape (...)
        Viscosity at low shear [Pa·s].

    Notes
    -----
    eta = eta_s (1 + k c)^8 with k from the grade, which is stated for water of 1 mPa·s at 20 °C.
    The eighth power is a rule of the trade for 0.5 to 3 times the reference dose.

    References
    ----------
    trade_recalled
        The eighth power.

    Examples
    --------
    Half the dose of a 4000 mPa·s grade:

    >>> found = viscosity_of_grade([0.02, 0.01], grade_viscosity=4.0, reference_dose=0.02,
    ...     solvent_viscosity=0.001)
    >>> found.round(3)
    array([4.   , 0.177])
    """
    step = (np.asarray(grade_viscosity, dtype=np.float64) / 0.001) ** 0.125 - 1.0
    rise = 1.0 + step * np.asarray(dose, dtype=np.float64) / reference_dose
    # Three squarings: one dose alone gives the last digit it has in a batch.
    fourth = (rise * rise) * (rise * rise)
    return np.asarray(np.asarray(solvent_viscosity) * (fourth * fourth))
