"""What the simple bench tests of thickness read."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

_GRAVITY = 9.80665  # [m/s2]


def bostwick_reading_huppert(
    viscosity: ArrayLike,
    *,
    density: ArrayLike,
    time: ArrayLike,
    area: float = 19e-4,
    gate: float = 0.05,
) -> Array:
    """Return how far a liquid without yield stress runs in the Bostwick trough.

    Parameters
    ----------
    viscosity : array_like, shape (...)
        Viscosity, above zero [Pa·s].
    density : array_like, shape (...)
        Density [kg/m3].
    time : array_like, shape (...)
        Time since the gate opened [s].
    area : float
        Volume of liquid per width of the trough [m2].
    gate : float
        Length of the chamber behind the gate, where the reading starts [m].

    Returns
    -------
    numpy.ndarray, shape (...)
        Reading beyond the gate, zero or more [m].

    Notes
    -----
    L = 1.411 (g q^3 / (3 nu))^0.2 t^0.2, minus the chamber. Holds for thick liquids once they have
    run a few times their depth; sauces with a yield stress stop before.

    References
    ----------
    huppert_1982
        Spreading of a fixed volume along a plane.

    Examples
    --------
    >>> float(bostwick_reading_huppert(100.0, density=1000.0, time=30.0).round(3))
    0.08
    """
    kinematic = np.asarray(viscosity, dtype=np.float64) / np.asarray(density, dtype=np.float64)
    length = 1.411 * (_GRAVITY * area**3 / (3.0 * kinematic) * np.asarray(time)) ** 0.2
    return np.asarray(np.clip(length - gate, 0.0, None))


def line_spread_radius(viscosity: ArrayLike, *, intercept: float, slope: float) -> Array:
    """Return how far a liquid spreads on a plate of rings.

    Parameters
    ----------
    viscosity : array_like, shape (...)
        Viscosity, above zero [Pa·s].
    intercept : float
        Radius at 1 mPa·s [m].
    slope : float
        Change of the radius for ten times the viscosity, below zero [m].

    Returns
    -------
    numpy.ndarray, shape (...)
        Radius, zero or more [m].

    Notes
    -----
    r = a + b log10(eta / mPa·s). Holds between 1 and 10 000 mPa·s on the plate it was drawn for;
    yield stress and density move it.

    References
    ----------
    line_spread_2004
        Water, barium drink and pudding; correlation over twenty foods.

    Examples
    --------
    >>> float(line_spread_radius(0.1, intercept=0.0543, slope=-0.0111).round(4))
    0.0321
    """
    radius = intercept + slope * np.log10(1000.0 * np.asarray(viscosity, dtype=np.float64))
    return np.asarray(np.clip(radius, 0.0, None))
