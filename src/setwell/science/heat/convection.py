"""Heat given to air or water that rises by itself or is blown past: published correlations."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

GRAVITY = 9.80665


def rayleigh_number(
    density_ratio: ArrayLike, *, length: ArrayLike, kinematic: ArrayLike, prandtl: ArrayLike
) -> Array:
    """Return the Rayleigh number of a fluid next to a warmer or colder surface.

    Parameters
    ----------
    density_ratio : array_like, shape (...)
        Difference of density between surface and far fluid over the density itself [-].
    length : array_like, shape (...)
        Height of a wall, area over perimeter of a plate, or diameter of a ball [m].
    kinematic : array_like, shape (...)
        Kinematic viscosity of the fluid [m2/s].
    prandtl : array_like, shape (...)
        Prandtl number of the fluid [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Rayleigh number, never negative [-].

    Notes
    -----
    Ra = g |Δρ/ρ| L^3 Pr / ν^2. Written with the density difference itself, it also holds for
    water around 4 °C, where the usual expansion coefficient changes its sign. For a gas the
    ratio is ΔT over the absolute mean temperature.

    References
    ----------
    churchill_chu_1975
        Definition used by the correlations for plates.

    Examples
    --------
    >>> rayleigh_number(0.1, length=0.09, kinematic=1.7e-5, prandtl=0.71).round(-4)
    np.float64(1760000.0)
    """
    ratio, size = np.abs(np.asarray(density_ratio, float)), np.asarray(length, float)
    viscosity = np.asarray(kinematic, dtype=np.float64)
    return np.asarray(GRAVITY * ratio * size**3 * np.asarray(prandtl, float) / viscosity**2)


def nusselt_vertical_plate(rayleigh: ArrayLike, *, prandtl: ArrayLike) -> Array:
    """Return the Nusselt number of an upright wall in a still fluid.

    Parameters
    ----------
    rayleigh : array_like, shape (...)
        Rayleigh number with the height of the wall [-].
    prandtl : array_like, shape (...)
        Prandtl number of the fluid [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Mean Nusselt number with the height of the wall [-].

    Notes
    -----
    Nu = (0.825 + 0.387 Ra^(1/6) / (1 + (0.492/Pr)^(9/16))^(8/27))^2. Valid up to Ra = 1e12 and
    for every Prandtl number. A slender upright cylinder gives somewhat more: see the factor for
    a round wall.

    References
    ----------
    churchill_chu_1975
        The correlation over the whole range.

    Examples
    --------
    >>> nusselt_vertical_plate(1.76e6, prandtl=0.71).round(2)
    np.float64(19.27)
    """
    number = np.asarray(prandtl, dtype=np.float64)
    shape = (1.0 + (0.492 / number) ** (9.0 / 16.0)) ** (8.0 / 27.0)
    root = 0.825 + 0.387 * np.asarray(rayleigh, dtype=np.float64) ** (1.0 / 6.0) / shape
    return np.asarray(root**2)


def nusselt_round_wall_factor(
    rayleigh: ArrayLike, *, prandtl: ArrayLike, length: ArrayLike, diameter: ArrayLike
) -> Array:
    """Return how much more heat a round upright wall gives than a flat one.

    Parameters
    ----------
    rayleigh : array_like, shape (...)
        Rayleigh number with the height of the wall, above zero [-].
    prandtl : array_like, shape (...)
        Prandtl number of the fluid [-].
    length : array_like, shape (...)
        Height of the wall [m].
    diameter : array_like, shape (...)
        Diameter of the wall [m].

    Returns
    -------
    numpy.ndarray, shape (...)
        Nusselt number over that of a flat wall, one or more [-].

    Notes
    -----
    F = 1 + B (sqrt(32) (Ra/Pr)^(-1/4) L/D)^C with B = 0.0571322 + 0.20305 Pr^(-0.43) and
    C = 0.9165 − 0.0043 Pr^0.5 + 0.01333 ln Pr + 0.0004809/Pr. Valid for laminar flow and
    Prandtl numbers from 0.01 to 100.

    References
    ----------
    popiel_2008
        The fit to computed flow along slender cylinders, recalled.

    Examples
    --------
    >>> nusselt_round_wall_factor(1e6, prandtl=0.71, length=0.09, diameter=0.07).round(3)
    np.float64(1.071)
    """
    number = np.asarray(prandtl, dtype=np.float64)
    grashof = np.asarray(rayleigh, dtype=np.float64) / number
    gain = 0.0571322 + 0.20305 * number**-0.43
    power = 0.9165 - 0.0043 * np.sqrt(number) + 0.01333 * np.log(number) + 0.0004809 / number
    slender = np.asarray(length, dtype=np.float64) / np.asarray(diameter, dtype=np.float64)
    return np.asarray(1.0 + gain * (np.sqrt(32.0) * grashof**-0.25 * slender) ** power)


def nusselt_plate_upward(rayleigh: ArrayLike) -> Array:
    """Return the Nusselt number of a level face from which the fluid leaves freely.

    Parameters
    ----------
    rayleigh : array_like, shape (...)
        Rayleigh number with area over perimeter [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Mean Nusselt number with area over perimeter [-].

    Notes
    -----
    Nu = 0.54 Ra^(1/4) between 1e4 and 1e7 and 0.15 Ra^(1/3) up to 1e11: a warm face up or a
    cold face down. The larger of the two is taken, which joins them without a step; between
    5e6 and 1e7 that is up to 6 % more than the first alone.

    References
    ----------
    mcadams_1954
        Both branches.

    Examples
    --------
    >>> nusselt_plate_upward([1e6, 1e9]).round(1)
    array([ 17.1, 150. ])
    """
    number = np.asarray(rayleigh, dtype=np.float64)
    return np.maximum(0.54 * number**0.25, 0.15 * number ** (1.0 / 3.0))


def nusselt_plate_downward(rayleigh: ArrayLike) -> Array:
    """Return the Nusselt number of a level face under or on which the fluid is caught.

    Parameters
    ----------
    rayleigh : array_like, shape (...)
        Rayleigh number with area over perimeter [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Mean Nusselt number with area over perimeter [-].

    Notes
    -----
    Nu = 0.27 Ra^(1/4), valid between 1e5 and 1e10: a warm face down or a cold face up.

    References
    ----------
    mcadams_1954
        The correlation.

    Examples
    --------
    >>> nusselt_plate_downward(1e6).round(2)
    np.float64(8.54)
    """
    return np.asarray(0.27 * np.asarray(rayleigh, dtype=np.float64) ** 0.25)


def nusselt_sphere(rayleigh: ArrayLike, *, prandtl: ArrayLike) -> Array:
    """Return the Nusselt number of a ball in a still fluid.

    Parameters
    ----------
    rayleigh : array_like, shape (...)
        Rayleigh number with the diameter [-].
    prandtl : array_like, shape (...)
        Prandtl number of the fluid [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Mean Nusselt number with the diameter [-].

    Notes
    -----
    Nu = 2 + 0.589 Ra^(1/4) / f^(4/9) (1 + 7.44e-8 Ra / f^(16/9))^(1/12) with
    f = 1 + (0.469/Pr)^(9/16). Valid up to Ra = 1e11 for Prandtl numbers above 0.7; without any
    motion it is 2.

    References
    ----------
    churchill_1983
        The correlation.

    Examples
    --------
    >>> nusselt_sphere([0.0, 1e6], prandtl=0.71).round(1)
    array([ 2. , 16.4])
    """
    number = np.asarray(rayleigh, dtype=np.float64)
    shape = 1.0 + (0.469 / np.asarray(prandtl, dtype=np.float64)) ** (9.0 / 16.0)
    rough = (1.0 + 7.44e-8 * number / shape ** (16.0 / 9.0)) ** (1.0 / 12.0)
    return np.asarray(2.0 + 0.589 * number**0.25 / shape ** (4.0 / 9.0) * rough)


def nusselt_cylinder_crossflow(reynolds: ArrayLike, *, prandtl: ArrayLike) -> Array:
    """Return the Nusselt number of a cylinder with a stream across it.

    Parameters
    ----------
    reynolds : array_like, shape (...)
        Reynolds number with the diameter [-].
    prandtl : array_like, shape (...)
        Prandtl number of the fluid [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Mean Nusselt number with the diameter [-].

    Notes
    -----
    Nu = 0.3 + 0.62 Re^(1/2) Pr^(1/3) / (1 + (0.4/Pr)^(2/3))^(1/4)
    (1 + (Re/282000)^(5/8))^(4/5). Valid for Re Pr above 0.2 and a smooth stream; the rough
    stream of a fan gives 20 to 50 % more.

    References
    ----------
    churchill_bernstein_1977
        The correlation.

    Examples
    --------
    >>> nusselt_cylinder_crossflow(5000.0, prandtl=0.71).round(1)
    np.float64(36.8)
    """
    number, stream = np.asarray(prandtl, dtype=np.float64), np.asarray(reynolds, dtype=np.float64)
    laminar = 0.62 * np.sqrt(stream) * np.cbrt(number)
    laminar = laminar / (1.0 + (0.4 / number) ** (2.0 / 3.0)) ** 0.25
    return np.asarray(0.3 + laminar * (1.0 + (stream / 282_000.0) ** (5.0 / 8.0)) ** 0.8)
