"""Pectin that sugar and acid set: the graded test gel and the setting temperature."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def dose_of_graded_gel(solids: ArrayLike, *, sag_grade: ArrayLike) -> Array:
    """Return the pectin in the test gel by which its grade is stated.

    Parameters
    ----------
    solids : array_like, shape (...)
        Dissolved solids of the test gel [kg/kg].
    sag_grade : array_like, shape (...)
        Mass of sugar that a mass of pectin sets to the standard firmness, above zero [kg/kg].

    Returns
    -------
    numpy.ndarray, shape (...)
        Pectin per mass of gel [kg/kg].

    Notes
    -----
    c = w_s / S, by the definition of the grade; pectin and acid count little among the solids.
    For high-methoxyl pectin only.

    References
    ----------
    trade_recalled
        Definition of the grade.

    Examples
    --------
    150-grade pectin at 65 % solids:

    >>> float(dose_of_graded_gel(0.65, sag_grade=150.0).round(5))
    0.00433
    """
    return np.asarray(np.asarray(solids, dtype=np.float64) / np.asarray(sag_grade))


def setting_temperature_sugar_acid(
    solids: ArrayLike,
    ph: ArrayLike,
    *,
    reference_temperature: float,
    reference_solids: float,
    reference_ph: float,
    rise_per_solids: float,
    rise_per_ph: float,
    limits: tuple[float, float],
) -> Array:
    """Return the temperature where a sugar and acid pectin gel sets on cooling.

    Parameters
    ----------
    solids : array_like, shape (...)
        Dissolved solids of the batch [kg/kg].
    ph : array_like, shape (...)
        pH of the batch [-].
    reference_temperature : float
        Setting temperature at the reference solids and pH [K].
    reference_solids : float
        Solids that the reference temperature holds for [kg/kg].
    reference_ph : float
        pH that the reference temperature holds for [-].
    rise_per_solids : float
        Rise for each share of solids more [K].
    rise_per_ph : float
        Rise for each unit of pH more; below zero [K].
    limits : tuple of float
        Lowest and highest temperature that makes sense [K].

    Returns
    -------
    numpy.ndarray, shape (...)
        Setting temperature [K].

    Notes
    -----
    T = T_ref + s (w - w_ref) + a (pH - pH_ref), held between the limits. A straight line through
    the supplier's figure; the slopes are recalled. For 55 to 80 % solids and pH 2.7 to 3.6.

    References
    ----------
    pectin_supplier
        Setting temperatures of the grades.
    trade_recalled
        Slopes.

    Examples
    --------
    >>> t = setting_temperature_sugar_acid(0.65, 3.1, reference_temperature=358.15,
    ...     reference_solids=0.65, reference_ph=3.1, rise_per_solids=100.0, rise_per_ph=-25.0,
    ...     limits=(283.15, 373.15))
    >>> float(t) - 273.15
    85.0
    """
    by_solids = rise_per_solids * (np.asarray(solids, dtype=np.float64) - reference_solids)
    by_ph = rise_per_ph * (np.asarray(ph, dtype=np.float64) - reference_ph)
    found = reference_temperature + by_solids + by_ph
    return np.asarray(np.minimum(np.maximum(found, limits[0]), limits[1]))
