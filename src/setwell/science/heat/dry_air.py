"""Air of the kitchen: what it conducts and how thick it flows."""

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

ZERO_C = 273.15
GAS_CONSTANT_AIR = 287.055
HEAT_CAPACITY_AIR = 1_006.0
NORMAL_PRESSURE = 101_325.0


class FlowProperties(NamedTuple):
    """Conductivity [W/mK], kinematic viscosity [m2/s] and Prandtl number [-]."""

    conductivity: Array
    kinematic: Array
    prandtl: Array


def air_properties(celsius: ArrayLike) -> FlowProperties:
    """Return what dry air at normal pressure conducts and how it flows.

    Parameters
    ----------
    celsius : array_like, shape (...)
        Temperature of the air [°C].

    Returns
    -------
    FlowProperties, each of shape (...)
        Conductivity [W/mK], kinematic viscosity [m2/s] and Prandtl number [-].

    Notes
    -----
    k = 2.64638e-3 T^1.5 / (T + 245.4 · 10^(−12/T)), μ = 1.458e-6 T^1.5 / (T + 110.4),
    ν = μ R T / p and Pr = μ cp / k with cp = 1006 J/kgK. Meant for −40 to 120 °C; moisture
    changes them by a few percent.

    References
    ----------
    us_standard_atmosphere_1976
        Both equations, recalled.

    Examples
    --------
    >>> k, nu, pr = air_properties(20.0)
    >>> (float(k.round(4)), float(nu.round(7)), float(pr.round(3)))
    (0.0257, 1.51e-05, 0.709)
    """
    kelvin = np.asarray(celsius, dtype=np.float64) + ZERO_C
    conductivity = 2.64638e-3 * kelvin**1.5 / (kelvin + 245.4 * 10.0 ** (-12.0 / kelvin))
    viscosity = 1.458e-6 * kelvin**1.5 / (kelvin + 110.4)
    kinematic = viscosity * GAS_CONSTANT_AIR * kelvin / NORMAL_PRESSURE
    prandtl = viscosity * HEAT_CAPACITY_AIR / conductivity
    return FlowProperties(conductivity, kinematic, prandtl)
