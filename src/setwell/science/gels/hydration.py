"""How much of a texture agent dissolves over a temperature history."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from setwell.errors import InputError, OutOfRangeError

Array = NDArray[np.float64]


def exposure_above(
    times: ArrayLike,
    temperatures: ArrayLike,
    thresholds: ArrayLike,
    *,
    q10: float,
    reference_temperature: float,
) -> Array:
    """Return the time spent above each threshold, counted as time at the reference temperature.

    Between two points the temperature runs straight.

    Parameters
    ----------
    times : array_like, shape (..., p)
        Times of the points, never falling [s].
    temperatures : array_like, shape (..., p)
        Temperatures at the points [K].
    thresholds : array_like, shape (j,) or (..., j)
        Temperatures that count from here up [K].
    q10 : float
        How many times faster it goes 10 K warmer, above zero [-].
    reference_temperature : float
        Temperature at which a second counts as a second [K].

    Returns
    -------
    numpy.ndarray, shape (..., j)
        Time at the reference temperature that does as much [s].

    Raises
    ------
    InputError
        If the shapes do not fit or times fall.
    OutOfRangeError
        If q10 is not above zero.

    Notes
    -----
    E = ∫ q^((T - T_ref) / 10 K) dt over T >= threshold. On a straight stretch the integrand is
    the exponential of a straight line, so the part above a threshold has the closed form
    Δt r(T_1) (e^d - 1) / d with d = ln(q) (T_2 - T_1) / 10 K; no step size comes in. Rates that
    go with a q10 hold over a few tens of kelvin.

    References
    ----------
    common_practice
        A rate that changes by a fixed factor per 10 K; the integral is our own.

    Examples
    --------
    Ten minutes from 60 to 80 °C and nothing faster when warmer: a quarter lies above 75 °C.

    >>> exposure_above([0, 600], [333.15, 353.15], [333.15, 348.15, 353.15], q10=1.0,
    ...     reference_temperature=353.15)
    array([600., 150.,   0.])
    """
    time, temperature = (np.asarray(x, dtype=np.float64) for x in (times, temperatures))
    _check_history(time, temperature)
    if not q10 > 0:
        raise OutOfRangeError(f"The factor per 10 K is {q10:g}; it must be above zero.")
    limits = np.asarray(thresholds, dtype=np.float64)[..., None]
    start, end = temperature[..., None, :-1], temperature[..., None, 1:]
    first, last = np.maximum(start, limits), np.maximum(end, limits)
    climb = end - start
    is_flat = climb == 0.0
    share = np.where(is_flat, start >= limits, (last - first) / np.where(is_flat, 1.0, climb))
    slope = float(np.log(q10)) / 10.0
    seconds = (time[..., 1:] - time[..., :-1])[..., None, :] * share
    if slope == 0.0:
        return np.asarray(seconds.sum(axis=-1))
    rate = np.exp(slope * (first - reference_temperature))
    return np.asarray((seconds * rate * _expm1_over(slope * (last - first))).sum(axis=-1))


def hydrated_fraction(
    exposure: ArrayLike,
    *,
    rate: ArrayLike,
    clumped_share: ArrayLike = 0.0,
    clump_rate_share: ArrayLike = 0.0,
) -> Array:
    """Return the dissolved share of a powder whose particles need different temperatures.

    Parameters
    ----------
    exposure : array_like, shape (..., j)
        Time above the threshold of each of j equal classes of particles, counted at the
        reference temperature [s].
    rate : array_like, shape (...)
        Rate at the reference temperature, the inverse of the time constant [1/s].
    clumped_share : array_like, shape (...)
        Share of the powder that sits in lumps, 0 to 1 [kg/kg].
    clump_rate_share : array_like, shape (...)
        Rate inside a lump over the rate of loose powder, 0 to 1 [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Share dissolved, between 0 and 1 [kg/kg].

    Raises
    ------
    OutOfRangeError
        If a share is not between 0 and 1 or a rate is negative.

    Notes
    -----
    f = mean over the classes of (1 - s)(1 - e^(-k E)) + s (1 - e^(-k b E)), first order in each
    class; s sits in lumps that dissolve at b times the rate. It never falls with more time, more
    heat or a higher rate. Classes spread evenly between an onset and a full temperature stand for
    salt forms, grain sizes and lots; that spread is a shape of our own, not a measured one.

    References
    ----------
    stanley_1987
        Carrageenan salts dissolve between 60 and 80 °C, not at one temperature.
    common_practice
        First order in time, and lumps that hardly dissolve.

    Examples
    --------
    One time constant for one half of the particles, none for the other:

    >>> float(hydrated_fraction([120.0, 0.0], rate=1 / 120).round(4))
    0.3161
    """
    share = np.asarray(clumped_share, dtype=np.float64)
    slower = np.asarray(clump_rate_share, dtype=np.float64)
    if any(np.any((part < 0) | (part > 1)) for part in (share, slower)):
        raise OutOfRangeError("The share of lumps and of their rate must lie between 0 and 1.")
    pace = np.asarray(rate, dtype=np.float64)[..., None]
    if np.any(pace < 0):
        raise OutOfRangeError("A rate of dissolving cannot be below zero.")
    progress = pace * np.asarray(exposure, dtype=np.float64)
    loose = 1.0 - np.exp(-progress).mean(axis=-1)
    if not share.any():
        return np.asarray(loose)
    lumps = 1.0 - np.exp(-slower[..., None] * progress).mean(axis=-1)
    return np.asarray(loose + share * (lumps - loose))


def class_thresholds(
    onset_temperature: ArrayLike, full_temperature: ArrayLike, *, classes: int = 24
) -> Array:
    """Return the threshold temperatures of equal classes of particles.

    Parameters
    ----------
    onset_temperature : array_like, shape (...)
        Temperature at which the first particles dissolve [K].
    full_temperature : array_like, shape (...)
        Temperature at which the last ones do [K].
    classes : int
        Number of classes, one or more [-].

    Returns
    -------
    numpy.ndarray, shape (..., j)
        Middle of each class [K].

    Raises
    ------
    OutOfRangeError
        If there is no class.

    Notes
    -----
    T_j = T_on + (j - 1/2) / J (T_full - T_on), the midpoint rule over an even spread. The
    default is meant for kitchen histories, where it meets a fine spread within 2 %.

    References
    ----------
    common_practice
        The even spread is our own choice.

    Examples
    --------
    >>> class_thresholds(333.0, 353.0, classes=2)
    array([338., 348.])
    """
    if classes < 1:
        raise OutOfRangeError("There must be at least one class of particles.")
    onset = np.asarray(onset_temperature, dtype=np.float64)[..., None]
    span = np.asarray(full_temperature, dtype=np.float64)[..., None] - onset
    return np.asarray(onset + (np.arange(classes) + 0.5) / classes * span)


def _check_history(time: Array, temperature: Array) -> None:
    points = temperature.shape[-1] if temperature.ndim else 0
    if points < 2 or time.shape[-1:] != temperature.shape[-1:]:
        raise InputError(
            f"A history needs as many times as temperatures, two or more; got shapes "
            f"{time.shape} and {temperature.shape}."
        )
    if np.any(time[..., 1:] < time[..., :-1]):
        raise InputError("The times of a history must never fall.")


def _expm1_over(z: Array) -> Array:
    """Return (e^z - 1)/z, which is 1 at zero."""
    is_zero = z == 0.0
    return np.asarray(np.where(is_zero, 1.0, np.expm1(z) / np.where(is_zero, 1.0, z)))
