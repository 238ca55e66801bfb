"""Boiling and freezing points of what is dissolved, from its water activity."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from setwell.errors import OutOfRangeError

Array = NDArray[np.float64]

# Molar gas constant [J/(mol K)], exact since 2019 by the definition of the SI.
_GAS = 8.314462618
# Molar mass of water [kg/mol], IUPAC 2021.
_WATER = 0.0180153
# Melting point of ice in air at one atmosphere [K], by definition of the Celsius scale to 0.01 K.
_MELTING = 273.15
# Heat of melting, 333.43 kJ/kg, and liquid less ice, 4.219 - 2.097 kJ/(kg K), at 0 °C [J/mol]:
# Feistel and Wagner 2006, recalled.
_MELTING_HEAT = 333430.0 * _WATER
_MELTING_CAPACITY = (4219.0 - 2097.0) * _WATER
# Critical point [K, Pa]; then powers and factors of Wagner and Pruss 1993.
_CRITICAL_TEMPERATURE, _CRITICAL_PRESSURE = 647.096, 22.064e6
_POWERS = np.array([1.0, 1.5, 3.0, 3.5, 4.0, 7.5])
_FACTORS = np.array([-7.85951783, 1.84408259, -11.7866497, 22.6807411, -15.9618719, 1.80122502])
# Pressure of water's triple point [Pa], below which no liquid boils.
_TRIPLE_PRESSURE = 611.657
_BOILING_ROUNDS = 5


def vapor_pressure_wagner_pruss_1993(temperature: ArrayLike) -> Array:
    """Return the vapor pressure of pure water.

    Parameters
    ----------
    temperature : array_like, shape (...)
        Temperature, from 0.01 °C to the critical point [K].

    Returns
    -------
    numpy.ndarray, shape (...)
        Saturation pressure over liquid water [Pa].

    Raises
    ------
    OutOfRangeError
        If a temperature lies below 273.15 K or above the critical point.

    Notes
    -----
    ln(p/p_c) = (T_c/T) Σ a_i θ^n_i with θ = 1 - T/T_c, six terms. Valid from 273.16 to
    647.096 K, stated error 0.02 to 0.1 %. Meets one atmosphere at 99.974 °C and 611.657 Pa at
    the triple point, to the printed digit.

    References
    ----------
    wagner_pruss_1993
        Equation 1 and its constants, read in open code and checked at three points.

    Examples
    --------
    >>> float(vapor_pressure_wagner_pruss_1993(373.1243).round())
    101325.0
    """
    kelvin = np.asarray(temperature, dtype=np.float64)
    if np.any((kelvin < _MELTING) | (kelvin > _CRITICAL_TEMPERATURE)):
        raise OutOfRangeError(
            "The vapor pressure of water is known from 0 °C (32 °F) to 373.9 °C (705.1 °F) only.",
            field="temperature",
        )
    return np.asarray(_CRITICAL_PRESSURE * np.exp(_log_pressure(_CRITICAL_TEMPERATURE / kelvin)[0]))


def boiling_temperature(water_activity: ArrayLike, *, pressure: ArrayLike) -> Array:
    """Return the temperature at which a solution of that water activity boils.

    Parameters
    ----------
    water_activity : array_like, shape (...)
        Water activity of the solution, above 0 up to 1 [-].
    pressure : array_like, shape (...)
        Pressure of the air; 101325 at sea level [Pa].

    Returns
    -------
    numpy.ndarray, shape (...)
        Boiling point [K].

    Raises
    ------
    OutOfRangeError
        If the water activity is not above 0 up to 1, or no liquid water boils there.

    Notes
    -----
    aw p_sat(T) = p, solved by Newton's method. Meant for solutes that do not boil off, not for
    spirits. Steam counts as an ideal gas, which makes the rise 1.5 % small; the water activity
    is taken as that of 25 °C. Sucrose by Norrish with K = 6.47 stays within 0.35 °C of Browne's
    table up to 64 % and within 1.3 °C up to 82 %, where it reads low; his rows below 40 % lie
    0.2 to 0.3 °C above the law of dilute solutions.

    References
    ----------
    wagner_pruss_1993
        Vapor pressure of water.
    browne_1912
        Measured boiling points of sucrose syrups.

    Examples
    --------
    Pure water at sea level and where the air has 80 kPa:

    >>> (boiling_temperature(1.0, pressure=[101325.0, 80000.0]) - 273.15).round(2)
    array([99.97, 93.49])
    """
    activity = _activity(water_activity)
    needed = np.asarray(pressure, dtype=np.float64) / activity
    if np.any((needed < _TRIPLE_PRESSURE) | (needed > 0.9 * _CRITICAL_PRESSURE)):
        raise OutOfRangeError(
            "No liquid water boils at this pressure and water activity.",
            field="pressure",
            hint="Give the air pressure in pascal, 101325 at sea level.",
        )
    wanted = np.log(needed / _CRITICAL_PRESSURE)
    # ln p is nearly straight in 1/T, so Newton from 100 °C settles within a few steps; five
    # leave less than 1e-11 °C from the triple point up to 90 % of the critical pressure.
    inverse = np.full_like(wanted, _CRITICAL_TEMPERATURE / 373.124)
    for _ in range(_BOILING_ROUNDS):
        found, slope = _log_pressure(inverse)
        inverse = np.maximum(inverse - (found - wanted) / slope, 1.001)
    return np.asarray(_CRITICAL_TEMPERATURE / inverse)


def water_activity_ice(temperature: ArrayLike) -> Array:
    """Return the water activity of a solution in balance with ice.

    Parameters
    ----------
    temperature : array_like, shape (...)
        Temperature of ice and solution, from -100 to 0 °C [K].

    Returns
    -------
    numpy.ndarray, shape (...)
        Water activity against pure liquid water at the same temperature [-].

    Raises
    ------
    OutOfRangeError
        If a temperature lies outside 173.15 to 273.15 K.

    Notes
    -----
    ln aw = [(L - C T0) (1/T0 - 1/T) + C ln(T/T0)] / R with heat of melting L and the heat
    capacity C of water less ice, both at T0 = 0 °C. Valid to about -40 °C: there C has grown
    and the error reaches about 1 %.

    References
    ----------
    feistel_wagner_2006
        Heat of melting and heat capacity of ice, recalled.

    Examples
    --------
    >>> water_activity_ice([273.15, 263.15, 253.15]).round(3)
    array([1.   , 0.907, 0.823])
    """
    kelvin = np.asarray(temperature, dtype=np.float64)
    if np.any((kelvin < 173.15) | (kelvin > _MELTING)):
        raise OutOfRangeError(
            "Ice and solution are compared from −100 °C (−148 °F) to 0 °C (32 °F) only.",
            field="temperature",
        )
    return np.asarray(np.exp(_log_activity_ice(kelvin)))


def freezing_temperature(water_activity: ArrayLike) -> Array:
    """Return the temperature at which a solution of that water activity begins to freeze.

    Parameters
    ----------
    water_activity : array_like, shape (...)
        Water activity of the solution, 0.4 to 1 [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Temperature of the first ice [K].

    Raises
    ------
    OutOfRangeError
        If the water activity is not between 0.4 and 1.

    Notes
    -----
    The inverse of `water_activity_ice` = aw, by Newton's method. Valid for aw above 0.68, that
    is down to -40 °C; the water activity is taken as that of 25 °C. Sucrose by Norrish with
    K = 6.47: 0.62, 1.46, 2.63 and 4.32 °C of fall at 10, 20, 30 and 40 %, against 0.63, 1.47,
    2.64 and 4.45 recalled, so up to 3 % low. Sodium chloride with the osmotic coefficient of
    25 °C reads 3 % high at 3.5 % and 9 % high at 20 %.

    References
    ----------
    feistel_wagner_2006
        Heat of melting and heat capacity of ice, recalled.

    Examples
    --------
    >>> (freezing_temperature([1.0, 0.98, 0.9]) - 273.15).round(2)
    array([  0.  ,  -2.08, -10.83])
    """
    activity = _activity(water_activity)
    if np.any(activity < 0.4):
        raise OutOfRangeError(
            "A water activity below 0.4 has no freezing point that could be worked out.",
            field="water_activity",
        )
    wanted = np.log(activity)
    kelvin = 1.0 / (1.0 / _MELTING - _GAS * wanted / _MELTING_HEAT)
    for _ in range(12):
        heat = _MELTING_HEAT + _MELTING_CAPACITY * (kelvin - _MELTING)
        kelvin = kelvin - (_log_activity_ice(kelvin) - wanted) * _GAS * kelvin**2 / heat
    return np.asarray(kelvin)


def boiling_point_rise_ideal(particle_molality: ArrayLike) -> Array:
    """Return the rise of the boiling point by the law of dilute solutions.

    Parameters
    ----------
    particle_molality : array_like, shape (...)
        Dissolved particles per mass of water, zero or more [mol/kg].

    Returns
    -------
    numpy.ndarray, shape (...)
        Rise at one atmosphere [K].

    Notes
    -----
    dT = K_b b with K_b = 0.513 K kg/mol. Meant for less than about 0.5 mol/kg; sugar syrups
    boil higher than this.

    References
    ----------
    robinson_stokes_1959
        Ebullioscopic constant, recalled.

    Examples
    --------
    >>> float(boiling_point_rise_ideal(1.0))
    0.513
    """
    return np.asarray(0.513 * np.asarray(particle_molality, dtype=np.float64))


def freezing_point_fall_ideal(particle_molality: ArrayLike) -> Array:
    """Return the fall of the freezing point by the law of dilute solutions.

    Parameters
    ----------
    particle_molality : array_like, shape (...)
        Dissolved particles per mass of water, zero or more [mol/kg].

    Returns
    -------
    numpy.ndarray, shape (...)
        Fall below 0 °C [K].

    Notes
    -----
    dT = K_f b with K_f = 1.860 K kg/mol. Meant for less than about 0.5 mol/kg; at 40 % sucrose
    it reads 18 % low.

    References
    ----------
    robinson_stokes_1959
        Cryoscopic constant, recalled.

    Examples
    --------
    >>> float(freezing_point_fall_ideal(0.5))
    0.93
    """
    return np.asarray(1.860 * np.asarray(particle_molality, dtype=np.float64))


def _activity(water_activity: ArrayLike) -> Array:
    activity = np.asarray(water_activity, dtype=np.float64)
    if np.any((activity <= 0) | (activity > 1)):
        raise OutOfRangeError(
            "A water activity must lie above 0 and reach 1 at most.", field="water_activity"
        )
    return activity


def _log_pressure(inverse: Array) -> tuple[Array, Array]:
    """Return ln(p/p_c) and its slope for T_c/T."""
    depth = (1.0 - 1.0 / inverse)[..., None]
    series = (_FACTORS * depth**_POWERS).sum(axis=-1)
    steepness = (_FACTORS * _POWERS * depth ** (_POWERS - 1.0)).sum(axis=-1)
    return inverse * series, series + steepness / inverse


def _log_activity_ice(kelvin: Array) -> Array:
    straight = (_MELTING_HEAT - _MELTING_CAPACITY * _MELTING) * (1.0 / _MELTING - 1.0 / kelvin)
    return np.asarray((straight + _MELTING_CAPACITY * np.log(kelvin / _MELTING)) / _GAS)
