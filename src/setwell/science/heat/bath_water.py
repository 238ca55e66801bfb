"""Water of an ice bath: density with its maximum at 4 °C, and how it flows."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from setwell.science.heat.dry_air import FlowProperties

Array = NDArray[np.float64]

# Within 0.5 % from 0 to 90 °C [J/kgK].
HEAT_CAPACITY_WATER = 4_190.0


def water_density(celsius: ArrayLike) -> Array:
    """Return the density of water at normal pressure.

    Parameters
    ----------
    celsius : array_like, shape (...)
        Temperature of the water [°C].

    Returns
    -------
    numpy.ndarray, shape (...)
        Density [kg/m3].

    Notes
    -----
    ρ = (999.83952 + 16.945176 t − 7.9870401e-3 t^2 − 46.170461e-6 t^3 + 105.56302e-9 t^4
    − 280.54253e-12 t^5) / (1 + 16.879850e-3 t). Valid from 0 to 100 °C; largest at 4 °C.

    References
    ----------
    kell_1975
        The equation, recalled.

    Examples
    --------
    >>> water_density([0.0, 4.0, 20.0]).round(2)
    array([999.84, 999.97, 998.2 ])
    """
    at = np.asarray(celsius, dtype=np.float64)
    rows = (-280.54253e-12, 105.56302e-9, -46.170461e-6, -7.9870401e-3, 16.945176, 999.83952)
    return np.asarray(np.polyval(rows, at) / (1.0 + 16.879850e-3 * at))


def water_properties(celsius: ArrayLike) -> FlowProperties:
    """Return what water at normal pressure conducts and how it flows.

    Parameters
    ----------
    celsius : array_like, shape (...)
        Temperature of the water [°C].

    Returns
    -------
    FlowProperties, each of shape (...)
        Conductivity [W/mK], kinematic viscosity [m2/s] and Prandtl number [-].

    Notes
    -----
    With T* = T/300 K: k = Σ c T*^d, μ = 1e-6 Σ a T*^b, four terms each, and Pr = μ cp / k with
    cp = 4190 J/kgK. Valid from 0 to 100 °C.

    References
    ----------
    iapws_sr6_2011
        Both sums for liquid water at 0.1 MPa, recalled.

    Examples
    --------
    >>> k, nu, pr = water_properties(25.0)
    >>> (float(k.round(4)), float(pr.round(2)))
    (0.6072, 6.14)
    """
    reduced = (np.asarray(celsius, dtype=np.float64)[..., None] + 273.15) / 300.0
    conductivity = np.sum(
        np.array([0.80201, -0.25992, 0.10024, -0.032005])
        * reduced ** np.array([-0.32, -5.7, -12.0, -15.0]),
        axis=-1,
    )
    viscosity = 1e-6 * np.sum(
        np.array([280.68, 511.45, 61.131, 0.45903])
        * reduced ** np.array([-1.9, -7.7, -19.6, -40.0]),
        axis=-1,
    )
    kinematic = viscosity / water_density(celsius)
    return FlowProperties(conductivity, kinematic, viscosity * HEAT_CAPACITY_WATER / conductivity)
