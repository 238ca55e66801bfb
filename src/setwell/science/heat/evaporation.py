"""Water that leaves an open pot or cup, and the heat it takes along."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from setwell.science.heat.humid_air import (
    NORMAL_PRESSURE,
    dry_air_density,
    humidity_ratio,
    saturation_pressure,
)

Array = NDArray[np.float64]

SECONDS_PER_HOUR = 3_600.0
# Below this difference of density the published constant is the larger one [kg/m3].
WEAK_DIFFERENCE = 0.02
# Close to the boil the dry air left over the surface is counted as no less than this [Pa].
LEAST_DRY_PRESSURE = 0.01 * NORMAL_PRESSURE
# Schmidt over Prandtl number of vapor in air.
LEWIS_NUMBER = 0.86
HEAT_CAPACITY_AIR = 1_006.0


def latent_heat(celsius: ArrayLike) -> Array:
    """Return the heat that a kilogram of water takes along when it evaporates.

    Parameters
    ----------
    celsius : array_like, shape (...)
        Temperature of the surface [°C].

    Returns
    -------
    numpy.ndarray, shape (...)
        Latent heat [J/kg].

    Notes
    -----
    L = 2.501e6 − 2380 t. Valid from 0 to 100 °C within 0.5 %.

    References
    ----------
    ashrae_psychrometrics
        The straight line used for moist air, recalled.

    Examples
    --------
    >>> latent_heat([0.0, 100.0])
    array([2501000., 2263000.])
    """
    return np.asarray(2.501e6 - 2380.0 * np.asarray(celsius, dtype=np.float64))


def evaporation_still_air(
    surface_c: ArrayLike,
    *,
    air_c: ArrayLike,
    humidity: ArrayLike,
    water_activity: ArrayLike = 1.0,
) -> Array:
    """Return the water that leaves an open surface into quiet air.

    Parameters
    ----------
    surface_c : array_like, shape (...)
        Temperature of the surface, below the boil [°C].
    air_c : array_like, shape (...)
        Temperature of the room [°C].
    humidity : array_like, shape (...)
        Relative humidity of the room, 0 to 1 [-].
    water_activity : array_like, shape (...)
        Water activity of the surface [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Water lost per area and time, never negative [kg/m2s].

    Notes
    -----
    m = C ρ_w (ρ_r − ρ_w)^(1/3) (W_w − W_r) per hour with C = 35, and 40 while the difference of
    density is below 0.02 kg/m3; ρ is dry air per volume of moist air at surface and in the room.
    Between 0.020 and 0.030 kg/m3 the smaller form is held so that the loss never falls as the
    surface warms. Never less than 5e-5 (p_w − p_r) per hour, the loss where air does not rise.
    Valid for water of 7 to 94 °C, mean deviation 18 % over 11 sets of data: take ±25 %.

    References
    ----------
    shah_2002
        The correlation and its deviation; constants recalled.

    Examples
    --------
    >>> (3600.0 * evaporation_still_air([60.0, 80.0], air_c=20.0, humidity=0.5)).round(2)
    array([3.02, 8.74])
    """
    wet, room = _vapor(surface_c, air_c, humidity, water_activity)
    dense_wet = dry_air_density(surface_c, vapor_pressure=wet)
    difference = np.maximum(dry_air_density(air_c, vapor_pressure=room) - dense_wet, 0.0)
    strong = 35.0 * np.cbrt(difference)
    weak = 40.0 * np.cbrt(np.minimum(difference, WEAK_DIFFERENCE))
    gain = humidity_ratio(wet) - humidity_ratio(room)
    rising = np.maximum(strong, weak) * dense_wet * gain
    hourly = np.maximum(np.maximum(rising, 5e-5 * (wet - room)), 0.0)
    return np.asarray(hourly / SECONDS_PER_HOUR)


def evaporation_film(
    surface_c: ArrayLike,
    *,
    air_c: ArrayLike,
    humidity: ArrayLike,
    coefficient: ArrayLike,
    water_activity: ArrayLike = 1.0,
) -> Array:
    """Return the same loss from the heat that the surface gives to the air.

    Parameters
    ----------
    surface_c : array_like, shape (...)
        Temperature of the surface, below the boil [°C].
    air_c : array_like, shape (...)
        Temperature of the room [°C].
    humidity : array_like, shape (...)
        Relative humidity of the room, 0 to 1 [-].
    coefficient : array_like, shape (...)
        Heat passed to the air by convection alone [W/m2K].
    water_activity : array_like, shape (...)
        Water activity of the surface [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Water lost per area and time, never negative [kg/m2s].

    Notes
    -----
    m = h / (cp Le^(2/3)) ln(1 + B), B = (y_w − y_r) / (1 − y_w), y = W / (1 + W): heat and vapor
    cross the same film, and the stream of vapor itself carries more along. Meant for comparison;
    above 70 °C it gives a quarter to a half more than the measured pools.

    References
    ----------
    bird_2007
        Film theory and the analogy of heat and mass transfer, recalled.

    Examples
    --------
    >>> lost = evaporation_film(60.0, air_c=20.0, humidity=0.5, coefficient=6.473)
    >>> (3600.0 * lost).round(1)
    np.float64(3.4)
    """
    wet, room = (humidity_ratio(p) for p in _vapor(surface_c, air_c, humidity, water_activity))
    share_wet, share_room = wet / (1.0 + wet), room / (1.0 + room)
    drive = np.maximum((share_wet - share_room) / (1.0 - share_wet), 0.0)
    moved = np.asarray(coefficient, dtype=np.float64) / HEAT_CAPACITY_AIR
    return np.asarray(moved * LEWIS_NUMBER ** (-2.0 / 3.0) * np.log1p(drive))


def _vapor(
    surface_c: ArrayLike, air_c: ArrayLike, humidity: ArrayLike, water_activity: ArrayLike
) -> tuple[Array, Array]:
    """Return the pressure of vapor at the surface and in the room."""
    wet = np.asarray(water_activity, dtype=np.float64) * saturation_pressure(surface_c)
    room = np.asarray(humidity, dtype=np.float64) * saturation_pressure(air_c)
    most = NORMAL_PRESSURE - LEAST_DRY_PRESSURE
    return np.minimum(wet, most), np.minimum(room, most)
