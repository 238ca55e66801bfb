"""Air of a cold place that takes the heat of warm molds while its machine works against it."""

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


class ColdPlace(NamedTuple):
    """A cold place: kept at `set_c` by at most `power` [W], in a room of `room_c`.

    `store` is the heat that air, shelves and walls take per degree [J/K]; `leak` what comes in
    through walls and door per degree [W/K].
    """

    set_c: ArrayLike
    power: ArrayLike
    room_c: ArrayLike
    store: ArrayLike
    leak: ArrayLike


class _Swing(NamedTuple):
    """T = rest + fast e^(rate_fast t) + slow e^(rate_slow t)."""

    rest: Array
    fast: Array
    slow: Array
    rate_fast: Array
    rate_slow: Array


def air_temperature(
    seconds: ArrayLike, *, place: ColdPlace, start_c: ArrayLike, heat_store: ArrayLike,
    conductance: ArrayLike,
) -> Array:  # fmt: skip
    """Return the air of a cold place after warm molds went in.

    Parameters
    ----------
    seconds : array_like, shape (...)
        Time since the molds went in [s].
    place : ColdPlace
        The cold place: setting and room [°C], power [W], store [J/K] and leak [W/K].
    start_c : array_like, shape (...)
        Temperature of the molds when they go in [°C].
    heat_store : array_like, shape (...)
        Heat that all molds together give per degree [J/K].
    conductance : array_like, shape (...)
        Heat that all molds together pass to the air per degree [W/K].

    Returns
    -------
    numpy.ndarray, shape (...)
        Temperature of the air, never below the setting [°C].

    Notes
    -----
    C_a dT_a/dt = G (T_m − T_a) + K (T_room − T_a) − P and C_m dT_m/dt = −G (T_m − T_a): two
    falling exponentials. The machine gives at most P and otherwise what the setting needs; as
    the load only ever falls, the air is the larger of this line and the setting. Meant for
    molds that cool as one lump and a machine that takes at least what leaks in.

    References
    ----------
    incropera_2007
        The balance of two lumps; solved here.

    Examples
    --------
    >>> fridge = ColdPlace(4.0, 80.0, 20.0, 15e3, 1.0)
    >>> air_temperature([0, 1800], place=fridge, start_c=80.0, heat_store=6e3,
    ...                 conductance=3.0).round(1)
    array([ 4. , 12.2])
    """
    at = np.asarray(seconds, dtype=np.float64)
    swing = _swing(place, start_c, heat_store, conductance)
    air = (
        swing.rest
        + swing.fast * np.exp(swing.rate_fast * at)
        + swing.slow * np.exp(swing.rate_slow * at)
    )
    return np.maximum(air, np.asarray(place.set_c, dtype=np.float64))


def air_peak(
    *, place: ColdPlace, start_c: ArrayLike, heat_store: ArrayLike, conductance: ArrayLike
) -> Array:
    """Return the warmest that the air of a cold place gets.

    Parameters
    ----------
    place : ColdPlace
        The cold place: setting and room [°C], power [W], store [J/K] and leak [W/K].
    start_c : array_like, shape (...)
        Temperature of the molds when they go in [°C].
    heat_store : array_like, shape (...)
        Heat that all molds together give per degree [J/K].
    conductance : array_like, shape (...)
        Heat that all molds together pass to the air per degree [W/K].

    Returns
    -------
    numpy.ndarray, shape (...)
        Highest temperature of the air [°C].

    Notes
    -----
    t = ln(−b s / (a f)) / (f − s), where the two exponentials a e^(f t) + b e^(s t) turn; the
    setting itself where the machine keeps up from the start. Meant for the same molds and
    places as the course of the air.

    References
    ----------
    incropera_2007
        The balance of two lumps; solved here.

    Examples
    --------
    >>> fridge = ColdPlace(4.0, 80.0, 20.0, 15e3, 1.0)
    >>> air_peak(place=fridge, start_c=80.0, heat_store=6e3, conductance=3.0).round(1)
    np.float64(12.3)
    """
    swing = _swing(place, start_c, heat_store, conductance)
    setting = np.asarray(place.set_c, dtype=np.float64)
    turn = -swing.slow * swing.rate_slow / (swing.fast * swing.rate_fast)
    rises = swing.fast * swing.rate_fast + swing.slow * swing.rate_slow > 0.0
    safe = np.where(rises & (turn > 0.0), turn, 1.0)
    at = np.maximum(np.log(safe) / (swing.rate_fast - swing.rate_slow), 0.0)
    air = (
        swing.rest
        + swing.fast * np.exp(swing.rate_fast * at)
        + swing.slow * np.exp(swing.rate_slow * at)
    )
    return np.where(rises, np.maximum(air, setting), setting)


def _swing(
    place: ColdPlace, start_c: ArrayLike, heat_store: ArrayLike, conductance: ArrayLike
) -> _Swing:
    setting, power, room, store, leak = (np.asarray(part, dtype=np.float64) for part in place)
    molds, passed = np.asarray(heat_store, float), np.asarray(conductance, float)
    warm = np.asarray(start_c, dtype=np.float64)
    trace = -(passed + leak) / store - passed / molds
    root = np.sqrt(trace**2 - 4.0 * passed * leak / (store * molds))
    rate_fast = (trace - root) / 2.0
    # Written as a quotient: the difference of two nearly equal numbers would lose its digits.
    rate_slow = passed * leak / (store * molds) / rate_fast
    rest = room - power / leak
    slope = (passed * (warm - setting) + leak * (room - setting) - power) / store
    away = setting - rest
    fast = (slope - rate_slow * away) / (rate_fast - rate_slow)
    return _Swing(rest, fast, away - fast, rate_fast, rate_slow)
