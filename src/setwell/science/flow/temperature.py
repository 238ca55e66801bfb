"""How liquids thin when they get warmer."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

_GAS_CONSTANT = 8.314462618  # [J/(mol K)]


def arrhenius_flow_factor(
    temperature: ArrayLike, *, activation_energy: ArrayLike, reference_temperature: float
) -> Array:
    """Return the viscosity at a temperature over that at a reference temperature.

    Parameters
    ----------
    temperature : array_like, shape (...)
        Temperature, above zero [K].
    activation_energy : array_like, shape (...)
        Flow activation energy, zero or more [J/mol].
    reference_temperature : float
        Where the factor is one [K].

    Returns
    -------
    numpy.ndarray, shape (...)
        Factor on the viscosity [-].

    Notes
    -----
    f = exp(E / R (1 / T - 1 / T_ref)). Meant for solutions between 0 and 100 °C that neither gel,
    melt nor break down; 15 to 30 kJ/mol is usual for gums (recalled).

    References
    ----------
    steffe_1996
        Use for liquid foods.

    Examples
    --------
    >>> f = arrhenius_flow_factor(333.15, activation_energy=20000.0, reference_temperature=298.15)
    >>> float(f.round(3))
    0.428
    """
    inverse = 1.0 / np.asarray(temperature, dtype=np.float64) - 1.0 / reference_temperature
    return np.asarray(np.exp(np.asarray(activation_energy) / _GAS_CONSTANT * inverse))


def water_viscosity(temperature: ArrayLike) -> Array:
    """Return the viscosity of water.

    Parameters
    ----------
    temperature : array_like, shape (...)
        Temperature [K].

    Returns
    -------
    numpy.ndarray, shape (...)
        Viscosity [Pa·s].

    Notes
    -----
    eta = 2.414e-5 · 10^(247.8 / (T - 140)) Pa·s. Valid between 0 and 100 °C within 2.5 %; within
    0.2 % at 20 and 25 °C.

    References
    ----------
    trade_recalled
        Coefficients, recalled.

    Examples
    --------
    >>> float(water_viscosity(293.15).round(5))
    0.001
    """
    return np.asarray(
        2.414e-5 * 10.0 ** (247.8 / (np.asarray(temperature, dtype=np.float64) - 140.0))
    )
