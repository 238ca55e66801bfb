"""Where low-acyl gellan sets, and how its firmness goes with the ions around it."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def gellan_cations(
    monovalent: ArrayLike, divalent: ArrayLike, *, divalent_weight: ArrayLike
) -> Array:
    """Return the cations that stiffen gellan chains, as monovalent ones.

    Parameters
    ----------
    monovalent : array_like, shape (...)
        Free sodium and potassium plus the counter-ions of the gum, zero or more [mol/kg].
    divalent : array_like, shape (...)
        Free calcium and magnesium, zero or more [mol/kg].
    divalent_weight : array_like, shape (...)
        How many monovalent ions one divalent ion stands for, 1 or more [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Total cations as monovalent [mol/kg].

    Notes
    -----
    C = C_mono + w C_div. All monovalent ions count alike, and so do all divalent ones; the gum
    itself counts only through its counter-ions. Valid for kitchen salts of low-acyl gellan.

    References
    ----------
    morris_2012
        No selectivity within a valence; counter-ions and added salt count alike.

    Examples
    --------
    >>> gellan_cations(0.015, 0.004, divalent_weight=4.5).round(4)
    np.float64(0.033)
    """
    weight = np.asarray(divalent_weight, dtype=np.float64)
    return np.asarray(np.asarray(monovalent, dtype=np.float64) + weight * np.asarray(divalent))


def setting_temperature_gellan(
    cations: ArrayLike,
    *,
    anchor_cations: float,
    anchor_temperature: ArrayLike,
    slope: ArrayLike,
) -> Array:
    """Return the temperature where chains of low-acyl gellan turn to helices and set.

    Parameters
    ----------
    cations : array_like, shape (...)
        Total cations as monovalent, above zero [mol/kg].
    anchor_cations : float
        Total cations where the setting temperature was measured, above zero [mol/kg].
    anchor_temperature : array_like, shape (...)
        Setting temperature there [K].
    slope : array_like, shape (...)
        Fall of the inverse temperature for ten times the cations [1/K].

    Returns
    -------
    numpy.ndarray, shape (...)
        Setting temperature [K].

    Notes
    -----
    1 / T = 1 / T_0 - b log10(C / C_0). The form follows polyelectrolyte theory; the slope is a
    prior without a published fit. For 5 to 300 mmol/kg.

    References
    ----------
    morris_2012
        Salt raises the transition as polyelectrolyte theory has it.
    gellan_dsc
        The anchor: 30 °C at 1 % of the sodium form without salt.

    Examples
    --------
    >>> t = setting_temperature_gellan(0.15, anchor_cations=0.015, anchor_temperature=303.15,
    ...     slope=3e-4)
    >>> round(float(t) - 273.15, 1)
    60.3
    """
    decades = np.log10(np.asarray(cations, dtype=np.float64) / anchor_cations)
    inverse = 1.0 / np.asarray(anchor_temperature, dtype=np.float64) - np.asarray(slope) * decades
    return np.asarray(1.0 / inverse)


def gellan_ion_share(
    ions: ArrayLike, *, best: tuple[float, float], decades: float, floor: ArrayLike
) -> Array:
    """Return the share of its best firmness that gellan has with these ions.

    Parameters
    ----------
    ions : array_like, shape (...)
        Gelling ions as calcium, zero or more [mol/kg].
    best : tuple of float
        From where to where the gel is firmest, above zero [mol/kg].
    decades : float
        Width of the fall on either side on the log10 axis, above zero [-].
    floor : array_like, shape (...)
        Share left far outside, between 0 and 1 [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Share of the highest modulus, from the floor to 1 [-].

    Notes
    -----
    f = f_0 + (1 - f_0) exp(-d^2 / (2 w^2)) with d the distance to the flat top in decades. The
    rise, the optimum and the fall beyond are published; the shape is our own. For 0.1 to
    30 mmol/kg.

    References
    ----------
    tang_1996
        Strength rises to an optimum of cations and falls beyond.

    Examples
    --------
    >>> gellan_ion_share([0.004, 0.02], best=(0.002, 0.006), decades=0.4, floor=0.05).round(2)
    array([1.  , 0.45])
    """
    found = np.log10(np.maximum(np.asarray(ions, dtype=np.float64), 1e-6))
    low, high = np.log10(best[0]), np.log10(best[1])
    distance = np.maximum(low - found, 0.0) + np.maximum(found - high, 0.0)
    least = np.asarray(floor, dtype=np.float64)
    return np.asarray(least + (1.0 - least) * np.exp(-(distance**2) / (2.0 * decades**2)))
