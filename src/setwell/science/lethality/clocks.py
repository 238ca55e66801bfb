"""How long a course stays above, below or between temperatures: exact on a broken line."""

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from setwell.errors import InputError

Array = NDArray[np.float64]
# Halvings when a level is searched: 100 K come down to less than a millionth.
_HALVINGS = 27


class Stretches(NamedTuple):
    """When a course is at or above a level: begins and ends, each of shape (k,)."""

    begins: Array
    ends: Array

    @property
    def lasts(self) -> Array:
        """How long each of them is [s]."""
        return self.ends - self.begins


def stretches_at_or_above(times: ArrayLike, temperatures: ArrayLike, level: float) -> Stretches:
    """Return when a course is at or above a temperature.

    Parameters
    ----------
    times : array_like, shape (p,)
        Times of the points, never falling [s].
    temperatures : array_like, shape (p,)
        Temperatures at the points, straight lines in between [K].
    level : float
        The temperature [K].

    Returns
    -------
    Stretches, shape (k,)
        Begins and ends, in order; one that only touches has no length [s].

    Raises
    ------
    InputError
        If shapes do not fit, times fall, or a number is missing.

    Notes
    -----
    t = t1 + (T - T1) / (T2 - T1) (t2 - t1) on each straight piece. Holds exactly for straight
    lines between the points; between readings of a probe anything may have happened.

    References
    ----------
    common_practice
        Crossings of a straight line.

    Examples
    --------
    Up through 63 °C and down again:

    >>> stretches_at_or_above([0, 60, 120], [333.15, 339.15, 333.15], 336.15)
    Stretches(begins=array([30.]), ends=array([90.]))
    """
    time, kelvin = _course(times, temperatures)
    above = kelvin >= level
    edges = np.diff(np.concatenate([[False], above, [False]]).astype(np.int8))
    first, last = np.flatnonzero(edges == 1), np.flatnonzero(edges == -1) - 1
    begins = _crossing(time, kelvin, np.maximum(first - 1, 0), first, level)
    ends = _crossing(time, kelvin, np.minimum(last + 1, len(time) - 1), last, level)
    return Stretches(begins, ends)


def longest_hold(times: ArrayLike, temperatures: ArrayLike, level: float) -> float:
    """Return the longest time without a break at or above a temperature.

    Parameters
    ----------
    times : array_like, shape (p,)
        Times of the points, never falling [s].
    temperatures : array_like, shape (p,)
        Temperatures at the points, straight lines in between [K].
    level : float
        The temperature [K].

    Returns
    -------
    float
        The longest hold; zero when it only touches, below zero when it never does [s].

    Raises
    ------
    InputError
        If shapes do not fit, times fall, or a number is missing.

    Notes
    -----
    hold = max(end - begin) over `stretches_at_or_above`; -1 when there is none. Holds for one
    stretch at a time: two short holds are never added up.

    References
    ----------
    fda_food_code_2022
        Temperatures held for a time in all parts of the food.

    Examples
    --------
    >>> longest_hold([0, 60, 120], [333.15, 339.15, 333.15], 336.15)
    60.0
    """
    found = stretches_at_or_above(times, temperatures, level).lasts
    return float(found.max()) if len(found) else -1.0


def highest_held(times: ArrayLike, temperatures: ArrayLike, hold: float) -> float:
    """Return the highest temperature that a course keeps up for some time without a break.

    Parameters
    ----------
    times : array_like, shape (p,)
        Times of the points, never falling [s].
    temperatures : array_like, shape (p,)
        Temperatures at the points, straight lines in between [K].
    hold : float
        The time to keep it up, zero or more [s].

    Returns
    -------
    float
        That temperature; minus infinity when the course is shorter than the hold [K].

    Raises
    ------
    InputError
        If shapes do not fit, times fall, or a number is missing.

    Notes
    -----
    Definition: the highest level whose `longest_hold` is no shorter than the hold, found by
    halving between the coldest and the warmest point and rounded down. For no hold it is the
    warmest point.

    References
    ----------
    common_practice
        A search by halving.

    Examples
    --------
    A minute at the top of a climb of 6 K in a minute and back:

    >>> round(highest_held([0, 60, 120], [333.15, 339.15, 333.15], 60.0), 3)
    336.15
    """
    time, kelvin = _course(times, temperatures)
    if hold <= 0.0:
        return float(kelvin.max())
    if time[-1] - time[0] < hold:
        return -np.inf
    low, high = float(kelvin.min()), float(kelvin.max())
    if longest_hold(time, kelvin, high) >= hold:
        return high
    for _ in range(_HALVINGS):
        middle = (low + high) / 2.0
        if longest_hold(time, kelvin, middle) >= hold:
            low = middle
        else:
            high = middle
    return low


def first_fall_below(
    times: ArrayLike, temperatures: ArrayLike, level: float, *, since: float = -np.inf
) -> float:
    """Return when a course first falls below a temperature.

    Parameters
    ----------
    times : array_like, shape (p,)
        Times of the points, never falling [s].
    temperatures : array_like, shape (p,)
        Temperatures at the points, straight lines in between [K].
    level : float
        The temperature [K].
    since : float
        Nothing before this time counts [s].

    Returns
    -------
    float
        The last moment at or above it before the fall; NaN when it never falls from it [s].

    Raises
    ------
    InputError
        If shapes do not fit, times fall, or a number is missing.

    Notes
    -----
    t = end of the first stretch at or above the level that ends no earlier than `since`. Valid
    when the course goes on after that; a stretch that lasts to the end has no fall.

    References
    ----------
    fda_food_code_2022
        The cooling time starts where the food falls through a temperature.

    Examples
    --------
    >>> first_fall_below([0, 60, 120], [333.15, 339.15, 333.15], 336.15)
    90.0
    """
    time, kelvin = _course(times, temperatures)
    if kelvin[-1] >= level:
        ends = stretches_at_or_above(time, kelvin, level).ends[:-1]
    else:
        ends = stretches_at_or_above(time, kelvin, level).ends
    later = ends[ends >= since]
    return float(later[0]) if len(later) else np.nan


def last_time_above(
    times: ArrayLike, temperatures: ArrayLike, level: float, *, until: float = np.inf
) -> float:
    """Return the last moment before which a course is still warmer than a temperature.

    Parameters
    ----------
    times : array_like, shape (p,)
        Times of the points, never falling [s].
    temperatures : array_like, shape (p,)
        Temperatures at the points, straight lines in between [K].
    level : float
        The temperature; to be exactly there is to have arrived [K].
    until : float
        Nothing after this time counts [s].

    Returns
    -------
    float
        When it arrives for good; minus infinity when it is never warmer, infinity when it still
        is at the end [s].

    Raises
    ------
    InputError
        If shapes do not fit, times fall, or a number is missing.

    Notes
    -----
    t = t1 + (T - T1) / (T2 - T1) (t2 - t1) on the last piece that comes from above. A course
    that warms up again arrives when it comes down for the last time: the safe side for cooling.

    References
    ----------
    fda_food_code_2022
        The cooling time ends where the food is at a temperature or colder.

    Examples
    --------
    Down to 5 °C, up to 8 °C and down again:

    >>> last_time_above([0, 60, 120, 180], [280.15, 277.15, 281.15, 277.15], 278.15)
    165.0
    """
    time, kelvin = _course(times, temperatures)
    if until < time[-1]:
        end = np.interp(until, time, kelvin)
        keep = time < until
        time = np.concatenate([time[keep], [until]])
        kelvin = np.concatenate([kelvin[keep], [end]])
    warm = np.flatnonzero(kelvin > level)
    if not len(warm):
        return -np.inf
    if warm[-1] == len(time) - 1:
        return np.inf
    return float(_crossing(time, kelvin, warm[-1:] + 1, warm[-1:], level)[0])


def time_within(times: ArrayLike, temperatures: ArrayLike, *, low: float, high: float) -> float:
    """Return how long a course is between two temperatures in all.

    Parameters
    ----------
    times : array_like, shape (p,)
        Times of the points, never falling [s].
    temperatures : array_like, shape (p,)
        Temperatures at the points, straight lines in between [K].
    low : float
        Lower temperature, itself included [K].
    high : float
        Upper temperature, itself left out [K].

    Returns
    -------
    float
        The time in between, all visits added up [s].

    Raises
    ------
    InputError
        If shapes do not fit, times fall, or a number is missing.

    Notes
    -----
    t = Σ Δt |clip(T2) - clip(T1)| / |T2 - T1|; a level piece counts whole. Holds exactly for
    straight lines between the points.

    References
    ----------
    common_practice
        Crossings of a straight line.

    Examples
    --------
    >>> time_within([0, 60, 120], [333.15, 339.15, 333.15], low=334.15, high=337.15)
    60.0
    """
    time, kelvin = _course(times, temperatures)
    lasts, whole = np.diff(time), np.abs(np.diff(kelvin))
    inside = np.abs(np.diff(np.clip(kelvin, low, high)))
    flat = ((kelvin[:-1] >= low) & (kelvin[:-1] < high)).astype(np.float64)
    return float((lasts * np.divide(inside, whole, out=flat, where=whole > 0.0)).sum())


def _course(times: ArrayLike, temperatures: ArrayLike) -> tuple[Array, Array]:
    time, kelvin = (np.asarray(x, dtype=np.float64) for x in (times, temperatures))
    if time.ndim != 1 or time.shape != kelvin.shape or not len(time):
        raise InputError(
            f"A course needs as many times as temperatures; got shapes {time.shape} and "
            f"{kelvin.shape}."
        )
    if not (np.isfinite(time).all() and np.isfinite(kelvin).all()):
        raise InputError("A course has a gap: leave missing readings out, or fill them in first.")
    if np.any(np.diff(time) < 0):
        raise InputError("The times of a course must never fall.")
    return time, kelvin


def _crossing(
    time: Array, kelvin: Array, outside: NDArray[np.intp], inside: NDArray[np.intp], level: float
) -> Array:
    """Return when the line between two points is at a level; `inside` where there is one point."""
    step = kelvin[outside] - kelvin[inside]
    part = np.divide(level - kelvin[inside], step, out=np.zeros(len(step)), where=step != 0.0)
    found = time[inside] + np.clip(part, 0.0, 1.0) * (time[outside] - time[inside])
    return np.asarray(found)
