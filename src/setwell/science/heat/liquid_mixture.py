"""Conductivity of liquids that dissolve in each other, such as alcohol and water."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def conductivity_filippov(
    first: ArrayLike, second: ArrayLike, *, second_mass_fraction: ArrayLike
) -> Array:
    """Return the conductivity of two liquids that dissolve in each other.

    Parameters
    ----------
    first : array_like, shape (...)
        Thermal conductivity of one liquid [W/m/K].
    second : array_like, shape (...)
        Thermal conductivity of the other liquid [W/m/K].
    second_mass_fraction : array_like, shape (...)
        Mass fraction of the other liquid, 0 to 1 [kg/kg].

    Returns
    -------
    numpy.ndarray, shape (...)
        Thermal conductivity [W/m/K].

    Notes
    -----
    k = w_1 k_1 + w_2 k_2 - 0.72 w_1 w_2 |k_2 - k_1|. Meant for two liquids such as water and
    ethanol, mostly within 5 %.

    References
    ----------
    poling_2001
        The equation of Filippov.

    Examples
    --------
    Water with 40 % ethanol by mass, near 20 °C:

    >>> float(conductivity_filippov(0.598, 0.169, second_mass_fraction=0.4).round(3))
    0.352
    """
    one, other = np.asarray(first, dtype=np.float64), np.asarray(second, dtype=np.float64)
    share = np.asarray(second_mass_fraction, dtype=np.float64)
    bend = 0.72 * share * (1.0 - share) * np.abs(other - one)
    return np.asarray((1.0 - share) * one + share * other - bend)
