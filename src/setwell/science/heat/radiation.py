"""Heat radiated by a surface to what surrounds it."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

STEFAN_BOLTZMANN = 5.670374419e-8
ZERO_C = 273.15


def coefficient_radiation(
    surface_c: ArrayLike, *, surroundings_c: ArrayLike, emissivity: ArrayLike
) -> Array:
    """Return the heat radiated per area and degree of difference.

    Parameters
    ----------
    surface_c : array_like, shape (...)
        Temperature of the surface [°C].
    surroundings_c : array_like, shape (...)
        Temperature of the walls around it [°C].
    emissivity : array_like, shape (...)
        Share of the radiation of a black surface [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Coefficient of radiation [W/m2K].

    Notes
    -----
    h = ε σ (T_s + T_a) (T_s^2 + T_a^2) with absolute temperatures: exact for a small gray
    surface between large walls, when it is multiplied by the difference. Meant for surfaces
    that see the walls; molds side by side see each other and lose less.

    References
    ----------
    incropera_2007
        Radiation written as a coefficient.

    Examples
    --------
    >>> coefficient_radiation(80.0, surroundings_c=4.0, emissivity=0.9).round(2)
    np.float64(6.48)
    """
    warm = np.asarray(surface_c, dtype=np.float64) + ZERO_C
    cold = np.asarray(surroundings_c, dtype=np.float64) + ZERO_C
    share = np.asarray(emissivity, dtype=np.float64)
    return np.asarray(share * STEFAN_BOLTZMANN * (warm + cold) * (warm**2 + cold**2))
