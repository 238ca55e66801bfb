"""Ice in food: where it begins, how much there is and what heat it takes."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

_GAS = 8.314462618  # [J/(mol K)]
_MELTING = 273.15  # [K]
# Molar heat of melting of ice used with the law of dilute solutions [J/mol].
_MOLAR_HEAT = 6009.5
# Chen's constants: heat of melting [J/kg], heat capacities [J/kg/K].
_HEAT = 333_600.0
_ICE, _ICE_SOLIDS = 1550.0, 1260.0
_WATER, _SOLIDS, _SOLIDS_CUBED = 4190.0, 2300.0, 628.0


def freezing_temperature_dilute(water_mole_fraction: ArrayLike) -> Array:
    """Return where ice begins by the law of dilute solutions.

    Parameters
    ----------
    water_mole_fraction : array_like, shape (...)
        Mole fraction of water in all that is dissolved and the water, above 0 up to 1 [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Freezing point [°C].

    Notes
    -----
    1 / T = 1 / 273.15 - R ln(x_w) / 6009.5 J/mol. Meant for dilute solutions: sucrose comes out
    at -0.60, -1.34, -2.28 and -3.51 °C for 10, 20, 30 and 40 %, where -0.63, -1.47, -2.64 and
    -4.45 are recalled as measured. Water activity does better: see `freezing_temperature`.

    References
    ----------
    ashrae_2006
        The law, recalled.

    Examples
    --------
    Twenty percent sucrose:

    >>> sucrose, water = 20 / 342.297, 80 / 18.0153
    >>> float(freezing_temperature_dilute(water / (water + sucrose)).round(2))
    -1.34
    """
    fraction = np.asarray(water_mole_fraction, dtype=np.float64)
    return np.asarray(1.0 / (1.0 / _MELTING - _GAS * np.log(fraction) / _MOLAR_HEAT) - _MELTING)


def ice_fraction_tchigeov_1979(
    temperature: ArrayLike, *, water_share: ArrayLike, freezing_point: ArrayLike
) -> Array:
    """Return the ice in a food by a rule fitted to many foods.

    Parameters
    ----------
    temperature : array_like, shape (...)
        Temperature [°C].
    water_share : array_like, shape (...)
        Mass fraction of water in the unfrozen food [kg/kg].
    freezing_point : array_like, shape (...)
        Where ice begins, below zero [°C].

    Returns
    -------
    numpy.ndarray, shape (...)
        Mass fraction of ice; zero where it does not freeze [kg/kg].

    Notes
    -----
    x_ice = 1.105 x_w / (1 + 0.7138 / ln(t_f - t + 1)). Valid down to -45 °C for freezing points
    between -2 and -0.4 °C.

    References
    ----------
    tchigeov_1979
        The rule, recalled.
    ashrae_2006
        The worked example of beef, recalled.

    Examples
    --------
    Beef of 58 % water at -20 °C, printed as 0.52:

    >>> float(ice_fraction_tchigeov_1979(-20.0, water_share=0.58, freezing_point=-1.7).round(4))
    0.5164
    """
    fall = np.asarray(freezing_point, dtype=np.float64) - np.asarray(temperature)
    depth = np.log1p(np.maximum(fall, 0.0))
    return np.asarray(1.105 * np.asarray(water_share) * depth / (depth + 0.7138))


def ice_fraction_miles_1983(
    temperature: ArrayLike,
    *,
    water_share: ArrayLike,
    bound_water: ArrayLike,
    freezing_point: ArrayLike,
) -> Array:
    """Return the ice in a food whose solution is dilute.

    Parameters
    ----------
    temperature : array_like, shape (...)
        Temperature [°C].
    water_share : array_like, shape (...)
        Mass fraction of water in the unfrozen food [kg/kg].
    bound_water : array_like, shape (...)
        Mass fraction of water that never freezes, 0.4 times the protein [kg/kg].
    freezing_point : array_like, shape (...)
        Where ice begins, below zero [°C].

    Returns
    -------
    numpy.ndarray, shape (...)
        Mass fraction of ice; zero where it does not freeze [kg/kg].

    Notes
    -----
    x_ice = (x_w - x_b) (1 - t_f / t), with temperatures in °C. Meant for food that begins to
    freeze close below zero; sweet food freezes less than this.

    References
    ----------
    miles_1983
        The rule, recalled.
    chen_1985
        The same rule under its enthalpy, recalled.

    Examples
    --------
    >>> found = ice_fraction_miles_1983([-1.0, -20.0], water_share=0.58, bound_water=0.07,
    ...     freezing_point=-1.7)
    >>> found.round(4)
    array([0.    , 0.4666])
    """
    celsius = np.asarray(temperature, dtype=np.float64)
    start = np.asarray(freezing_point, dtype=np.float64)
    frozen = celsius < start
    ratio = np.divide(start, celsius, out=np.ones(np.broadcast(celsius, start).shape), where=frozen)
    return np.asarray((np.asarray(water_share) - np.asarray(bound_water)) * (1.0 - ratio))


def heat_capacity_chen_1985(
    temperature: ArrayLike,
    *,
    water_share: ArrayLike,
    bound_water: ArrayLike,
    freezing_point: ArrayLike,
) -> Array:
    """Return the heat capacity of a food, with the heat of its ice where it freezes.

    Parameters
    ----------
    temperature : array_like, shape (...)
        Temperature [°C].
    water_share : array_like, shape (...)
        Mass fraction of water in the unfrozen food [kg/kg].
    bound_water : array_like, shape (...)
        Mass fraction of water that never freezes, 0.4 times the protein [kg/kg].
    freezing_point : array_like, shape (...)
        Where ice begins, below zero [°C].

    Returns
    -------
    numpy.ndarray, shape (...)
        Heat capacity; below the freezing point an apparent one [J/kg/K].

    Notes
    -----
    Unfrozen: c = 4190 - 2300 x_s - 628 x_s^3; frozen: c = 1550 + 1260 x_s - (x_w - x_b) L t_f /
    t^2, with x_s = 1 - x_w, L = 333.6 kJ/kg and t in °C. Meant for food that begins to freeze
    close below zero, down to -40 °C.

    References
    ----------
    chen_1985
        Both equations, recalled.

    Examples
    --------
    >>> found = heat_capacity_chen_1985([10.0, -20.0], water_share=0.5821, bound_water=0.0699,
    ...     freezing_point=-1.7)
    >>> found.round(0)
    array([3183., 2803.])
    """
    celsius = np.asarray(temperature, dtype=np.float64)
    start = np.asarray(freezing_point, dtype=np.float64)
    water = np.asarray(water_share, dtype=np.float64)
    frozen = celsius < start
    square = np.where(frozen, celsius**2, 1.0)
    melting = (water - np.asarray(bound_water)) * _HEAT * -start / square
    below = _ICE + _ICE_SOLIDS * (1.0 - water) + melting
    return np.asarray(np.where(frozen, below, _unfrozen(1.0 - water)))


def enthalpy_chen_1985(
    temperature: ArrayLike,
    *,
    water_share: ArrayLike,
    bound_water: ArrayLike,
    freezing_point: ArrayLike,
    reference_temperature: float = -40.0,
) -> Array:
    """Return the heat in a food, counted from deep frozen.

    Parameters
    ----------
    temperature : array_like, shape (...)
        Temperature [°C].
    water_share : array_like, shape (...)
        Mass fraction of water in the unfrozen food [kg/kg].
    bound_water : array_like, shape (...)
        Mass fraction of water that never freezes, 0.4 times the protein [kg/kg].
    freezing_point : array_like, shape (...)
        Where ice begins, below zero [°C].
    reference_temperature : float
        Where the count begins, below the freezing point [°C].

    Returns
    -------
    numpy.ndarray, shape (...)
        Enthalpy [J/kg].

    Notes
    -----
    Frozen: H = (t - t_r) (1550 + 1260 x_s - (x_w - x_b) L t_f / (t_r t)); unfrozen: H = H(t_f) +
    (t - t_f) (4190 - 2300 x_s - 628 x_s^3), with t in °C. Meant for food that begins to freeze
    close below zero, down to -40 °C.

    References
    ----------
    chen_1985
        Both equations, recalled.
    ashrae_2006
        The worked example of beef, recalled.

    Examples
    --------
    Beef of 58.21 % water and 17.48 % protein at -20 °C, printed as 48.79 kJ/kg:

    >>> found = enthalpy_chen_1985(-20.0, water_share=0.5821, bound_water=0.4 * 0.1748,
    ...     freezing_point=-1.7)
    >>> float(found.round())
    48793.0
    """
    celsius = np.asarray(temperature, dtype=np.float64)
    start = np.asarray(freezing_point, dtype=np.float64)
    water = np.asarray(water_share, dtype=np.float64)
    solids = 1.0 - water
    below = np.minimum(celsius, start)
    melting = (water - np.asarray(bound_water)) * _HEAT * start / (reference_temperature * below)
    frozen = (below - reference_temperature) * (_ICE + _ICE_SOLIDS * solids - melting)
    return np.asarray(frozen + np.maximum(celsius - start, 0.0) * _unfrozen(solids))


def _unfrozen(solids: Array) -> Array:
    return np.asarray(_WATER - _SOLIDS * solids - _SOLIDS_CUBED * solids**3)
