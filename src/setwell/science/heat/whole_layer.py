"""Heat through a whole layer from its warm base to its cold top, once it is steady."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

_ONSET = 1708.0


def nusselt_layer_hollands(rayleigh: ArrayLike, *, prandtl: ArrayLike) -> Array:
    """Return the Nusselt number of a wide layer between a warm base and a cold top.

    Parameters
    ----------
    rayleigh : array_like, shape (...)
        Rayleigh number with the depth and the whole difference [-].
    prandtl : array_like, shape (...)
        Prandtl number of the fluid [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Heat flux over that of conduction alone, one or more [-].

    Notes
    -----
    Nu = 1 + [1 − 1708/Ra] (k_1 + 2 (Ra^(1/3)/k_2)^(1 − ln(Ra^(1/3)/k_2))) + [(Ra/5803)^(1/3) − 1]
    with k_1 = 1.44/(1 + 0.018/Pr + 0.00136/Pr^2) and k_2 = 75 exp(1.5/Pr^(1/2)); a bracket below
    zero counts as zero. Valid between rigid faces for every Prandtl number.

    References
    ----------
    hollands_1984
        The correlation, by way of an open library.

    Examples
    --------
    >>> nusselt_layer_hollands([1000.0, 1.78e9], prandtl=5.54).round(1)
    array([ 1., 69.])
    """
    number = np.maximum(np.asarray(rayleigh, dtype=np.float64), 1e-12)
    spread = np.asarray(prandtl, dtype=np.float64)
    first = 1.44 / (1.0 + 0.018 / spread + 0.00136 / spread**2)
    scaled = np.cbrt(number) / (75.0 * np.exp(1.5 * spread**-0.5))
    second = first + 2.0 * scaled ** (1.0 - np.log(scaled))
    onset = np.maximum(1.0 - _ONSET / number, 0.0)
    moving = np.maximum(np.cbrt(number / 5803.0) - 1.0, 0.0)
    return np.asarray(np.where(number < _ONSET, 1.0, 1.0 + onset * second + moving))


def nusselt_layer_globe_dropkin(rayleigh: ArrayLike, *, prandtl: ArrayLike) -> Array:
    """Return the Nusselt number of a layer that moves fully, by an older correlation.

    Parameters
    ----------
    rayleigh : array_like, shape (...)
        Rayleigh number with the depth and the whole difference [-].
    prandtl : array_like, shape (...)
        Prandtl number of the fluid [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Heat flux over that of conduction alone, one or more [-].

    Notes
    -----
    Nu = 0.069 Ra^(1/3) Pr^0.074. Valid between 3e5 and 7e9 for Prandtl numbers from 0.02 to 8750.

    References
    ----------
    globe_dropkin_1959
        The correlation, recalled.

    Examples
    --------
    >>> float(nusselt_layer_globe_dropkin(1e8, prandtl=1000.0).round(1))
    53.4
    """
    number, spread = np.asarray(rayleigh, float), np.asarray(prandtl, float)
    return np.asarray(np.maximum(0.069 * np.cbrt(number) * spread**0.074, 1.0))
