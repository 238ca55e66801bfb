"""How fast ice grows inward."""

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import erf

Array = NDArray[np.float64]

_ROUNDS = 12


def freezing_time_plank_1913(
    size: ArrayLike,
    *,
    shape_constants: tuple[float, float],
    fall: ArrayLike,
    melting_heat: ArrayLike,
    density: ArrayLike,
    conductivity: ArrayLike,
    surface_coefficient: ArrayLike,
) -> Array:
    """Return how long a food takes to freeze through.

    Parameters
    ----------
    size : array_like, shape (...)
        Thickness of a slab, diameter of a cylinder or sphere [m].
    shape_constants : tuple of float
        P and R: 1/2, 1/8 slab; 1/4, 1/16 long cylinder; 1/6, 1/24 sphere [-].
    fall : array_like, shape (...)
        Freezing point less the temperature around it, above zero [K].
    melting_heat : array_like, shape (...)
        Heat given off by freezing per mass of food [J/kg].
    density : array_like, shape (...)
        Density of the food [kg/m3].
    conductivity : array_like, shape (...)
        Thermal conductivity of the frozen food, above zero [W/m/K].
    surface_coefficient : array_like, shape (...)
        Heat transfer at the surface, above zero [W/m2/K].

    Returns
    -------
    numpy.ndarray, shape (...)
        Time [s].

    Notes
    -----
    t = rho L / fall (P d / h + R d^2 / k). Valid for food that is all at its freezing point at
    the start and gives off no heat but that of freezing, so it is short by some 3 to 20 %.

    References
    ----------
    plank_1913
        The law, recalled.

    Examples
    --------
    A sphere of 7 cm, printed as about 2600 s:

    >>> t = freezing_time_plank_1913(0.07, shape_constants=(1 / 6, 1 / 24), fall=38.75,
    ...     melting_heat=250e3, density=1000.0, conductivity=1.2, surface_coefficient=50.0)
    >>> float(t.round(2))
    2603.05
    """
    across = np.asarray(size, dtype=np.float64)
    p, r = shape_constants
    resistance = p * across / np.asarray(surface_coefficient) + r * across**2 / np.asarray(
        conductivity
    )
    driven = np.asarray(density) * np.asarray(melting_heat) / np.asarray(fall, dtype=np.float64)
    return np.asarray(driven * resistance)


def stefan_constant(stefan_number: ArrayLike) -> Array:
    """Return the constant of the front of ice that grows from a cold wall.

    Parameters
    ----------
    stefan_number : array_like, shape (...)
        Heat capacity of ice times the fall at the wall over the heat of melting, up to 1 [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        The constant lambda [-].

    Notes
    -----
    sqrt(pi) lambda exp(lambda^2) erf(lambda) = Ste, solved by Newton's method. Valid for water at
    its freezing point in front of the ice, of any depth.

    References
    ----------
    alexiades_solomon_1993
        The equation, recalled.

    Examples
    --------
    Ice on water, 10 °C below freezing at the wall:

    >>> float(stefan_constant(2050.0 * 10.0 / 333600.0).round(8))
    0.17353249
    """
    wanted = np.asarray(stefan_number, dtype=np.float64)
    found = np.sqrt(wanted / 2.0)
    for _ in range(_ROUNDS):
        grown = np.sqrt(np.pi) * np.exp(found**2) * erf(found)
        slope = grown * (1.0 + 2.0 * found**2) + 2.0 * found
        step = np.divide(found * grown - wanted, slope, out=np.zeros_like(found), where=slope > 0)
        found = found - step
    return np.asarray(found)


def freezing_front_stefan(
    elapsed: ArrayLike, *, diffusivity: ArrayLike, stefan_number: ArrayLike
) -> Array:
    """Return how deep the ice has grown from a cold wall.

    Parameters
    ----------
    elapsed : array_like, shape (...)
        Time since the wall turned cold, zero or more [s].
    diffusivity : array_like, shape (...)
        Thermal diffusivity of the ice [m2/s].
    stefan_number : array_like, shape (...)
        Heat capacity of ice times the fall at the wall over the heat of melting, up to 1 [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Depth of the ice [m].

    Notes
    -----
    s = 2 lambda sqrt(a t). Valid for water at its freezing point in front of the ice, of any
    depth.

    References
    ----------
    alexiades_solomon_1993
        The law, recalled.

    Examples
    --------
    >>> found = freezing_front_stefan(3600.0, diffusivity=2.22 / (917 * 2050),
    ...     stefan_number=2050 * 10 / 333600)
    >>> float((1000 * found).round(4))
    22.6296
    """
    spread = np.sqrt(np.asarray(diffusivity) * np.asarray(elapsed, dtype=np.float64))
    return np.asarray(2.0 * stefan_constant(stefan_number) * spread)


def freezing_front_steady(
    elapsed: ArrayLike,
    *,
    conductivity: ArrayLike,
    fall: ArrayLike,
    density: ArrayLike,
    melting_heat: ArrayLike,
) -> Array:
    """Return how deep the ice has grown, without the heat that the ice itself gives off.

    Parameters
    ----------
    elapsed : array_like, shape (...)
        Time since the wall turned cold, zero or more [s].
    conductivity : array_like, shape (...)
        Thermal conductivity of the ice [W/m/K].
    fall : array_like, shape (...)
        Freezing point less the temperature of the wall [K].
    density : array_like, shape (...)
        Density of the ice [kg/m3].
    melting_heat : array_like, shape (...)
        Heat given off by freezing [J/kg].

    Returns
    -------
    numpy.ndarray, shape (...)
        Depth of the ice, an upper bound [m].

    Notes
    -----
    s = sqrt(2 k fall t / (rho L)). Meant for small falls; 1 % too deep at 10 °C below freezing.

    References
    ----------
    alexiades_solomon_1993
        The law, recalled.

    Examples
    --------
    >>> found = freezing_front_steady(3600.0, conductivity=2.22, fall=10.0, density=917.0,
    ...     melting_heat=333600.0)
    >>> float((1000 * found).round(4))
    22.8584
    """
    brought = np.asarray(conductivity) * np.asarray(fall) * np.asarray(elapsed, dtype=np.float64)
    return np.asarray(np.sqrt(2.0 * brought / (np.asarray(density) * np.asarray(melting_heat))))
