"""Setting and melting temperatures of carrageenan gels from the ions around them."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def counter_ion_concentration(dose: ArrayLike, *, equivalent_weight: float) -> Array:
    """Return the charges that an anionic gum brings into a batch.

    Parameters
    ----------
    dose : array_like, shape (...)
        Mass of gum per mass of water phase [kg/kg].
    equivalent_weight : float
        Mass of gum that carries one mole of charge, above zero [kg/mol].

    Returns
    -------
    numpy.ndarray, shape (...)
        Polymer counter-ions per mass of water phase [mol/kg].

    Notes
    -----
    C_p = w / M_eq. The ideal repeat of kappa in the sodium form has 0.4083 kg/mol. Holds for a
    fully dissolved gum.

    References
    ----------
    rochas_1984
        Use of the counter-ion concentration in the setting law.

    Examples
    --------
    1.5 % of the potassium form:

    >>> float(counter_ion_concentration(0.015, equivalent_weight=0.4244).round(4))
    0.0353
    """
    return np.asarray(np.asarray(dose, dtype=np.float64) / equivalent_weight)


def setting_temperature_kappa_rochas_1984(
    gelling_cation: ArrayLike, *, intercept: ArrayLike, slope: ArrayLike
) -> Array:
    """Return the temperature where a kappa carrageenan gel sets or melts.

    The logarithm of the gelling cation concentration is a straight line in the inverse
    temperature; setting and melting have a line each.

    Parameters
    ----------
    gelling_cation : array_like, shape (...)
        Free gelling cations plus active counter-ions, above zero [mol/kg].
    intercept : array_like, shape (...)
        A of the line, for concentrations in mol/L [-].
    slope : array_like, shape (...)
        B of the line, below zero [K].

    Returns
    -------
    numpy.ndarray, shape (...)
        Setting or melting temperature [K].

    Notes
    -----
    log10(C_T) = A + B / T. Valid between 5 and 200 mmol/kg; outside, the caller flags the
    extrapolation. The coefficients in use come from recalled anchors (7 mmol/L at 20 °C, 100
    mmol/L at 48 °C set and 64 °C melt) and carry an error of 4 to 5 °C. mol/kg of water is
    read as mol/L, an error below 2 °C.

    References
    ----------
    rochas_1980
        Form of the law.
    rochas_1984
        Total gelling cation with the counter-ion activity.

    Examples
    --------
    >>> t = setting_temperature_kappa_rochas_1984(0.1, intercept=11.091, slope=-3883.2)
    >>> round(float(t) - 273.15, 1)
    48.0
    """
    concentration = np.asarray(gelling_cation, dtype=np.float64)
    return np.asarray(
        np.asarray(slope, dtype=np.float64)
        / (np.log10(concentration) - np.asarray(intercept, dtype=np.float64))
    )


def setting_temperature_iota_calcium(
    calcium: ArrayLike,
    *,
    reference_temperature: float,
    rise_per_decade: float,
    limits: tuple[float, float],
) -> Array:
    """Return the temperature where an iota carrageenan gel sets.

    A straight line in the logarithm of free calcium, held between two limits.

    Parameters
    ----------
    calcium : array_like, shape (...)
        Free calcium, above zero [mol/kg].
    reference_temperature : float
        Setting temperature at 10 mmol/kg of calcium [K].
    rise_per_decade : float
        Rise for ten times more calcium [K].
    limits : tuple of float
        Lowest and highest setting temperature ever reported [K].

    Returns
    -------
    numpy.ndarray, shape (...)
        Setting temperature [K].

    Notes
    -----
    T = T_ref + s · log10(Ca / 0.010). A prior without a published fit, for 1 to 50 mmol/kg.

    References
    ----------
    bui_2019
        Calcium governs the setting of iota; span of the reported temperatures.

    Examples
    --------
    >>> t = setting_temperature_iota_calcium(0.01, reference_temperature=328.15,
    ...     rise_per_decade=12.0, limits=(308.15, 348.15))
    >>> round(float(t) - 273.15, 1)
    55.0
    """
    decades = np.log10(np.asarray(calcium, dtype=np.float64) / 0.010)
    return np.asarray(np.clip(reference_temperature + rise_per_decade * decades, *limits))
