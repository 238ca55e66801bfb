"""Dissociation constants at the temperature of the pot."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

# Molar gas constant [J/(mol K)], exact since the 2019 SI.
GAS_CONSTANT = 8.314462618
# Temperature that tabulated constants refer to [K].
REFERENCE_TEMPERATURE = 298.15


def pk_at_temperature(
    pk25: ArrayLike,
    *,
    enthalpy: ArrayLike,
    heat_capacity: ArrayLike,
    temperature: ArrayLike,
) -> Array:
    """Return the dissociation exponent at a temperature.

    Thermodynamic constants with a heat capacity change that does not vary with temperature.

    Parameters
    ----------
    pk25 : array_like, shape (...)
        −log10 of the dissociation constant at 25 °C and no ionic strength; NaN for a step
        that does not exist [-].
    enthalpy : array_like, shape (...)
        Enthalpy of dissociation at 25 °C [J/mol].
    heat_capacity : array_like, shape (...)
        Heat capacity change of dissociation [J/(mol·K)].
    temperature : array_like, shape (...)
        Temperature [K].

    Returns
    -------
    numpy.ndarray, shape (...)
        −log10 of the dissociation constant at the temperature; NaN stays NaN [-].

    Notes
    -----
    ln K(T) = ln K25 − dH/R (1/T − 1/T0) + dCp/R (T0/T − 1 + ln(T/T0)) with T0 = 298.15 K.
    Meant for 273 to 333 K; between 333 and 373 K the constant dCp costs up to some 0.05.
    With recalled constants it meets the standard buffers from 0 to 50 °C within 0.03.

    References
    ----------
    goldberg_2002
        Form of the temperature dependence and most of the constants in use.

    Examples
    --------
    Water at 50 °C, recalled constants (tables have 13.26):

    >>> pk_at_temperature(13.995, enthalpy=55.8e3, heat_capacity=-224.0,
    ...     temperature=323.15).round(2)
    np.float64(13.28)
    """
    kelvin = np.asarray(temperature, dtype=np.float64)
    ratio = REFERENCE_TEMPERATURE / kelvin
    by_enthalpy = np.asarray(enthalpy, dtype=np.float64) * (1.0 / kelvin - 1.0 / 298.15)
    by_capacity = np.asarray(heat_capacity, dtype=np.float64) * (ratio - 1.0 - np.log(ratio))
    change = (by_capacity - by_enthalpy) / GAS_CONSTANT
    return np.asarray(np.asarray(pk25, dtype=np.float64) - change / np.log(10.0))
