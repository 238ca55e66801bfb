"""Thickness of sugar syrups and of liquids crowded with particles or droplets."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from setwell.science.flow.temperature import water_viscosity

Array = NDArray[np.float64]

# The published equation runs 4 % below water at 20 °C; over this mass fraction of sugar our own
# correction, which makes the two meet, fades out.
_FADES_OVER = 0.05


def sucrose_viscosity_genotelle_1978(sugar: ArrayLike, *, temperature: ArrayLike) -> Array:
    """Return the viscosity of sucrose in water.

    Parameters
    ----------
    sugar : array_like, shape (...)
        Mass fraction of sucrose, from 0 to 0.86 [kg/kg].
    temperature : array_like, shape (...)
        Temperature [K].

    Returns
    -------
    numpy.ndarray, shape (...)
        Viscosity [Pa·s].

    Notes
    -----
    log10(eta / mPa·s) = 22.46 x - 0.114 + (30 - t) / (91 + t) (1.1 + 43.1 x^1.25), x = w / (1900 -
    18 w), with w in percent and t in °C. Valid for syrups of 20 to 65 % between 10 and 80 °C,
    within 4 % of handbook values; up to 14 % too thick at 0 °C. Below 20 % the answer slides over
    to that of water (our own joint). Glucose and fructose syrups are thinner.

    References
    ----------
    genotelle_1978
        The equation.
    mathlouthi_reiser_1995
        Where it is reprinted, equation 6.29.
    swindells_1958
        Handbook values it is checked against (recalled).
    bingham_jackson_1918
        Measured at 20, 40 and 60 %.

    Examples
    --------
    >>> found = sucrose_viscosity_genotelle_1978([0.0, 0.4, 0.6], temperature=293.15)
    >>> (1000 * found).round(1)
    array([ 1. ,  6.4, 59.7])
    """
    share = np.asarray(sugar, dtype=np.float64)
    kelvin = np.asarray(temperature, dtype=np.float64)
    celsius = kelvin - 273.15
    phi = (30.0 - celsius) / (91.0 + celsius)
    x = share / (19.0 - 18.0 * share)
    log_ratio = 22.46 * x - 0.114 + phi * (1.1 + 43.1 * x**1.25)
    # The equation at no sugar against water itself.
    gap = np.log10(1000.0 * water_viscosity(kelvin)) + 0.114 - 1.1 * phi
    return np.asarray(1e-3 * 10.0 ** (log_ratio + gap * np.exp(-share / _FADES_OVER)))


def crowding_krieger_dougherty(volume_fraction: ArrayLike, *, packing: float) -> Array:
    """Return how many times particles or droplets thicken the liquid around them.

    Parameters
    ----------
    volume_fraction : array_like, shape (...)
        Volume of the particles per volume of the whole, below the packing limit [-].
    packing : float
        Volume fraction where nothing flows any more, 0.6 to 0.65 for equal spheres [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Factor on the viscosity of the liquid [-].

    Notes
    -----
    f = (1 - phi / phi_m)^(-2.5 phi_m). Valid for hard round particles below 0.9 phi_m at low
    shear; droplets that bend or clump behave otherwise. At small phi it is 1 + 2.5 phi.

    References
    ----------
    krieger_dougherty_1959
        The law.

    Examples
    --------
    >>> float(crowding_krieger_dougherty(0.32, packing=0.64).round(2))
    3.03
    """
    free = 1.0 - np.asarray(volume_fraction, dtype=np.float64) / packing
    return np.asarray(free ** (-2.5 * packing))
