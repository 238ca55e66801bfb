"""Heat passed from a surface to air or water, as it falls with the difference."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from setwell.science.heat.bath_water import water_density, water_properties
from setwell.science.heat.convection import (
    nusselt_cylinder_crossflow,
    nusselt_plate_downward,
    nusselt_plate_upward,
    nusselt_sphere,
    nusselt_vertical_plate,
    rayleigh_number,
)
from setwell.science.heat.dry_air import ZERO_C, FlowProperties, air_properties

Array = NDArray[np.float64]


def coefficient_still_air(
    surface_c: ArrayLike, *, surroundings_c: ArrayLike, length: ArrayLike, face: str = "wall"
) -> Array:
    """Return the heat passed to still air by convection alone.

    Parameters
    ----------
    surface_c : array_like, shape (...)
        Temperature of the surface [°C].
    surroundings_c : array_like, shape (...)
        Temperature of the air [°C].
    length : array_like, shape (...)
        Height of a wall, area over perimeter of a plate, or diameter of a ball [m].
    face : str
        How the surface lies: wall, top, base or ball [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Coefficient of convection [W/m2K].

    Notes
    -----
    h = Nu k / L, with air at the mean of both temperatures and Δρ/ρ = ΔT/T. Meant for air that
    only the surface itself sets in motion; a draft of 0.2 m/s already counts as much.
    Radiation comes on top.

    References
    ----------
    churchill_chu_1975
        An upright wall.
    mcadams_1954
        Level faces.
    churchill_1983
        A ball.

    Examples
    --------
    >>> coefficient_still_air([6.0, 80.0], surroundings_c=4.0, length=0.09).round(1)
    array([3. , 7.4])
    """
    surface = np.asarray(surface_c, dtype=np.float64)
    around = np.asarray(surroundings_c, dtype=np.float64)
    middle = (surface + around) / 2.0
    air = air_properties(middle)
    ratio = (surface - around) / (middle + ZERO_C)
    number = rayleigh_number(ratio, length=length, kinematic=air.kinematic, prandtl=air.prandtl)
    nusselt = _nusselt(number, air, face, surface >= around)
    return np.asarray(nusselt * air.conductivity / np.asarray(length, dtype=np.float64))


def coefficient_still_water(
    surface_c: ArrayLike, *, surroundings_c: ArrayLike, length: ArrayLike
) -> Array:
    """Return the heat passed by an upright wall to still water.

    Parameters
    ----------
    surface_c : array_like, shape (...)
        Temperature of the surface, 0 to 100 °C [°C].
    surroundings_c : array_like, shape (...)
        Temperature of the water, 0 to 100 °C [°C].
    length : array_like, shape (...)
        Height of the wall [m].

    Returns
    -------
    numpy.ndarray, shape (...)
        Coefficient of convection [W/m2K].

    Notes
    -----
    h = Nu k / L with the difference of density between surface and bath. Holds for ice water
    while the surface is warmer than about 12 °C. Near 8 °C water is as dense as at 0 °C and
    this form sees hardly any motion, while warmer layers inside still move: give a floor there.

    References
    ----------
    churchill_chu_1975
        An upright wall.

    Examples
    --------
    >>> coefficient_still_water([20.0, 60.0], surroundings_c=0.0, length=0.09).round(-1)
    array([ 430., 1030.])
    """
    surface = np.asarray(surface_c, dtype=np.float64)
    around = np.asarray(surroundings_c, dtype=np.float64)
    water = water_properties((surface + around) / 2.0)
    ratio = (water_density(around) - water_density(surface)) / water_density(around)
    number = rayleigh_number(ratio, length=length, kinematic=water.kinematic, prandtl=water.prandtl)
    nusselt = nusselt_vertical_plate(number, prandtl=water.prandtl)
    return np.asarray(nusselt * water.conductivity / np.asarray(length, dtype=np.float64))


def coefficient_moving_air(
    surface_c: ArrayLike, *, surroundings_c: ArrayLike, diameter: ArrayLike, speed: ArrayLike
) -> Array:
    """Return the heat passed to blown air by convection alone.

    Parameters
    ----------
    surface_c : array_like, shape (...)
        Temperature of the surface [°C].
    surroundings_c : array_like, shape (...)
        Temperature of the air [°C].
    diameter : array_like, shape (...)
        Diameter across the stream [m].
    speed : array_like, shape (...)
        Speed of the air [m/s].

    Returns
    -------
    numpy.ndarray, shape (...)
        Coefficient of convection [W/m2K].

    Notes
    -----
    h = Nu k / D with air at the mean of both temperatures. Holds for a smooth stream across a
    cylinder; the rough stream of a fan gives 20 to 50 % more.

    References
    ----------
    churchill_bernstein_1977
        A cylinder across the stream.

    Examples
    --------
    >>> coefficient_moving_air(20.0, surroundings_c=4.0, diameter=0.076, speed=[0.5, 5]).round(1)
    array([ 8.7, 30.9])
    """
    middle = (np.asarray(surface_c, float) + np.asarray(surroundings_c, float)) / 2.0
    across = np.asarray(diameter, dtype=np.float64)
    air = air_properties(middle)
    reynolds = np.asarray(speed, dtype=np.float64) * across / air.kinematic
    nusselt = nusselt_cylinder_crossflow(reynolds, prandtl=air.prandtl)
    return np.asarray(nusselt * air.conductivity / across)


def _nusselt(number: Array, fluid: FlowProperties, face: str, is_warm: NDArray[np.bool_]) -> Array:
    if face == "wall":
        return nusselt_vertical_plate(number, prandtl=fluid.prandtl)
    if face == "ball":
        return nusselt_sphere(number, prandtl=fluid.prandtl)
    # A cold top holds its air as a warm base does.
    leaves = is_warm == (face == "top")
    return np.where(leaves, nusselt_plate_upward(number), nusselt_plate_downward(number))
