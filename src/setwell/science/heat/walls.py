"""A wall between food and air or water, folded into one figure for the surface of the food."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def transmittance_flat(
    coefficient: ArrayLike, *, thickness: ArrayLike, conductivity: ArrayLike
) -> Array:
    """Return the heat passed through a flat wall to what is outside.

    Parameters
    ----------
    coefficient : array_like, shape (...)
        Heat passed at the outside of the wall [W/m2K].
    thickness : array_like, shape (...)
        Thickness of the wall [m].
    conductivity : array_like, shape (...)
        Conductivity of the wall [W/mK].

    Returns
    -------
    numpy.ndarray, shape (...)
        Heat passed per area of the food [W/m2K].

    Notes
    -----
    1/U = d/k + 1/h, so U = h / (1 + h d / k). Holds for a wall that stores little heat
    itself; a glass jar holds a tenth of the heat and cools some minutes later.

    References
    ----------
    incropera_2007
        Resistances in series.

    Examples
    --------
    >>> transmittance_flat([8.0, 500.0], thickness=0.003, conductivity=1.0).round(1)
    array([  7.8, 200. ])
    """
    outside = np.asarray(coefficient, dtype=np.float64)
    resistance = np.asarray(thickness, float) / np.asarray(conductivity, float)
    return np.asarray(outside / (1.0 + outside * resistance))


def transmittance_round(
    coefficient: ArrayLike,
    *,
    inner_radius: ArrayLike,
    thickness: ArrayLike,
    conductivity: ArrayLike,
) -> Array:
    """Return the heat passed through the round wall of a cup.

    Parameters
    ----------
    coefficient : array_like, shape (...)
        Heat passed at the outside of the wall [W/m2K].
    inner_radius : array_like, shape (...)
        Radius of the food [m].
    thickness : array_like, shape (...)
        Thickness of the wall [m].
    conductivity : array_like, shape (...)
        Conductivity of the wall [W/mK].

    Returns
    -------
    numpy.ndarray, shape (...)
        Heat passed per area of the food [W/m2K].

    Notes
    -----
    1/U = r_i ln(r_o/r_i) / k + r_i / (r_o h). The outside is larger than the food, so a thin
    wall in still air passes slightly more than no wall. Holds for walls that store little heat.

    References
    ----------
    incropera_2007
        Resistance of a hollow cylinder.

    Examples
    --------
    >>> transmittance_round(8.0, inner_radius=0.035, thickness=0.003, conductivity=1.0).round(2)
    np.float64(8.47)
    """
    inside = np.asarray(inner_radius, dtype=np.float64)
    outside = inside + np.asarray(thickness, dtype=np.float64)
    through = inside * np.log(outside / inside) / np.asarray(conductivity, dtype=np.float64)
    return np.asarray(1.0 / (through + inside / (outside * np.asarray(coefficient, float))))


def transmittance_ball(
    coefficient: ArrayLike,
    *,
    inner_radius: ArrayLike,
    thickness: ArrayLike,
    conductivity: ArrayLike,
) -> Array:
    """Return the heat passed through the wall of a hollow ball.

    Parameters
    ----------
    coefficient : array_like, shape (...)
        Heat passed at the outside of the wall [W/m2K].
    inner_radius : array_like, shape (...)
        Radius of the food [m].
    thickness : array_like, shape (...)
        Thickness of the wall [m].
    conductivity : array_like, shape (...)
        Conductivity of the wall [W/mK].

    Returns
    -------
    numpy.ndarray, shape (...)
        Heat passed per area of the food [W/m2K].

    Notes
    -----
    1/U = r_i (1 − r_i/r_o) / k + (r_i/r_o)^2 / h. Holds for walls that store little heat.

    References
    ----------
    incropera_2007
        Resistance of a hollow ball.

    Examples
    --------
    >>> transmittance_ball(8.0, inner_radius=0.02, thickness=0.002, conductivity=0.25).round(2)
    np.float64(9.04)
    """
    inside = np.asarray(inner_radius, dtype=np.float64)
    share = inside / (inside + np.asarray(thickness, dtype=np.float64))
    through = inside * (1.0 - share) / np.asarray(conductivity, dtype=np.float64)
    return np.asarray(1.0 / (through + share**2 / np.asarray(coefficient, dtype=np.float64)))
