"""Moist air: how much vapor it can hold, and how heavy its dry part is."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

ZERO_C = 273.15
NORMAL_PRESSURE = 101_325.0
GAS_CONSTANT_AIR = 287.055
VAPOR_TO_AIR = 0.62198

_CRITICAL_KELVIN = 647.096
_CRITICAL_PASCAL = 22.064e6
_FACTORS = (-7.85951783, 1.84408259, -11.7866497, 22.6807411, -15.9618719, 1.80122502)
_POWERS = (1.0, 1.5, 3.0, 3.5, 4.0, 7.5)


def saturation_pressure(celsius: ArrayLike) -> Array:
    """Return the pressure of water vapor over water.

    Parameters
    ----------
    celsius : array_like, shape (...)
        Temperature of the water [°C].

    Returns
    -------
    numpy.ndarray, shape (...)
        Saturation pressure [Pa].

    Notes
    -----
    ln(p/p_c) = T_c/T (a1 τ + a2 τ^1.5 + a3 τ^3 + a4 τ^3.5 + a5 τ^4 + a6 τ^7.5), τ = 1 − T/T_c.
    Valid from 0 to 374 °C; below 0 °C it is the pressure over undercooled water.

    References
    ----------
    wagner_pruss_1993
        The equation, coefficients recalled and compared with an open library.

    Examples
    --------
    >>> saturation_pressure([20.0, 80.0]).round(0)
    array([ 2339., 47416.])
    """
    kelvin = np.asarray(celsius, dtype=np.float64) + ZERO_C
    away = 1.0 - kelvin / _CRITICAL_KELVIN
    terms = sum(factor * away**power for factor, power in zip(_FACTORS, _POWERS, strict=True))
    return np.asarray(_CRITICAL_PASCAL * np.exp(_CRITICAL_KELVIN / kelvin * terms))


def humidity_ratio(vapor_pressure: ArrayLike, *, pressure: ArrayLike = NORMAL_PRESSURE) -> Array:
    """Return the vapor carried by each kilogram of dry air.

    Parameters
    ----------
    vapor_pressure : array_like, shape (...)
        Pressure of the vapor, below the pressure of the air [Pa].
    pressure : array_like, shape (...)
        Pressure of the air [Pa].

    Returns
    -------
    numpy.ndarray, shape (...)
        Vapor per dry air [kg/kg].

    Notes
    -----
    W = 0.62198 p_v / (p − p_v). Holds for vapor and air as ideal gases; grows without bound
    when the surface comes to a boil.

    References
    ----------
    ashrae_psychrometrics
        Definition of the humidity ratio.

    Examples
    --------
    >>> humidity_ratio(1170.0).round(5)
    np.float64(0.00727)
    """
    vapor = np.asarray(vapor_pressure, dtype=np.float64)
    return np.asarray(VAPOR_TO_AIR * vapor / (np.asarray(pressure, dtype=np.float64) - vapor))


def dry_air_density(
    celsius: ArrayLike, *, vapor_pressure: ArrayLike, pressure: ArrayLike = NORMAL_PRESSURE
) -> Array:
    """Return the mass of dry air in each cubic meter of moist air.

    Parameters
    ----------
    celsius : array_like, shape (...)
        Temperature of the air [°C].
    vapor_pressure : array_like, shape (...)
        Pressure of the vapor [Pa].
    pressure : array_like, shape (...)
        Pressure of the air [Pa].

    Returns
    -------
    numpy.ndarray, shape (...)
        Dry air per volume of moist air [kg/m3].

    Notes
    -----
    ρ = (p − p_v) / (R T) with R = 287.055 J/kgK. Holds for ideal gases.

    References
    ----------
    ashrae_psychrometrics
        Definition of the specific volume of moist air, of which this is the inverse.

    Examples
    --------
    >>> dry_air_density(20.0, vapor_pressure=1170.0).round(4)
    np.float64(1.1902)
    """
    vapor = np.asarray(vapor_pressure, dtype=np.float64)
    kelvin = np.asarray(celsius, dtype=np.float64) + ZERO_C
    free = np.asarray(pressure, dtype=np.float64) - vapor
    return np.asarray(free / (GAS_CONSTANT_AIR * kelvin))
