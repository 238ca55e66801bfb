"""Lethality of a broken line of temperature, by the exact integral of each straight piece."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from setwell.errors import InputError, OutOfRangeError

Array = NDArray[np.float64]
_LN10 = float(np.log(10.0))


def lethality(
    times: ArrayLike,
    temperatures: ArrayLike,
    *,
    reference_temperature: ArrayLike,
    z_value: ArrayLike,
    z_value_above: ArrayLike | None = None,
    lowest: ArrayLike = -np.inf,
    highest: ArrayLike = np.inf,
) -> Array:
    """Return the time at the reference temperature that a whole course is worth.

    Any number of places and of references at once.

    Parameters
    ----------
    times : array_like, shape (p,)
        Times of the points, never falling [s].
    temperatures : array_like, shape (..., p)
        Temperatures at the points, straight lines in between [K].
    reference_temperature : array_like, shape (r...)
        Temperature at which a second counts as a second [K].
    z_value : array_like, shape (r...)
        Kelvin for a tenfold rate, above zero; may be infinite for a rate that stays [K].
    z_value_above : array_like, shape (r...), optional
        Another z for what is warmer than the reference; by default the same [K].
    lowest : array_like, shape (r...)
        Colder than this counts nothing; a piece is cut exactly there [K].
    highest : array_like, shape (r...)
        Warmer than this counts as this [K].

    Returns
    -------
    numpy.ndarray, shape (..., r...)
        Equivalent time at each reference temperature [s].

    Raises
    ------
    InputError
        If shapes do not fit, times fall, or a number is missing.
    OutOfRangeError
        If a z is not above zero.

    Notes
    -----
    F = Σ Δt (z / ln 10) (L2 - L1) / (T2 - T1) with L = 10^((T - T_ref) / z). It is computed as
    Δt (L1 + L2) / 2 · tanh(u) / u with u = ln 10 (T2 - T1) / (2 z), which is the same, stays
    exact where T1 nears T2, and shows that the trapezoid never counts less. Holds for
    destruction of first order with a rate tenfold per z.

    References
    ----------
    earle_1983
        Lethal rate and the sum of a stepped course.

    Examples
    --------
    One minute of heating from 50 to 70 °C, with z 10 K, is worth 13 s at 70 °C:

    >>> F = lethality([0, 60], [323.15, 343.15], reference_temperature=343.15, z_value=10.0)
    >>> float(F.round(3))
    12.899
    """
    time, kelvin = _course(times, temperatures)
    above = z_value if z_value_above is None else z_value_above
    pieces = np.broadcast_arrays(
        *(np.asarray(x, np.float64) for x in (reference_temperature, z_value, above, lowest,
                                              highest))
    )  # fmt: skip
    _check_z(*pieces[1:3])
    found = np.empty((*kelvin.shape[:-1], *pieces[0].shape))
    for place in np.ndindex(pieces[0].shape):
        one = [float(piece[place]) for piece in pieces]
        found[(..., *place)] = _pieces(time, kelvin, *one).sum(axis=-1)
    return found


def lethality_curve(
    times: ArrayLike,
    temperatures: ArrayLike,
    *,
    reference_temperature: float,
    z_value: float,
    z_value_above: float | None = None,
    lowest: float = -np.inf,
    highest: float = np.inf,
) -> Array:
    """Return how the lethality of a course adds up, point by point.

    Parameters
    ----------
    times : array_like, shape (p,)
        Times of the points, never falling [s].
    temperatures : array_like, shape (..., p)
        Temperatures at the points, straight lines in between [K].
    reference_temperature : float
        Temperature at which a second counts as a second [K].
    z_value : float
        Kelvin for a tenfold rate, above zero [K].
    z_value_above : float, optional
        Another z for what is warmer than the reference; by default the same [K].
    lowest : float
        Colder than this counts nothing [K].
    highest : float
        Warmer than this counts as this [K].

    Returns
    -------
    numpy.ndarray, shape (..., p)
        Equivalent time up to each point, zero at the first [s].

    Raises
    ------
    InputError
        If shapes do not fit, times fall, or a number is missing.
    OutOfRangeError
        If a z is not above zero.

    Notes
    -----
    F(t) = ∫ L dt from the first point, exact at every point. Valid as for `lethality`.

    References
    ----------
    earle_1983
        Lethal rate and the sum of a stepped course.

    Examples
    --------
    At the reference temperature the curve is the clock:

    >>> lethality_curve([0, 60, 90], [343.15] * 3, reference_temperature=343.15, z_value=7.5)
    array([ 0., 60., 90.])
    """
    time, kelvin = _course(times, temperatures)
    above = z_value if z_value_above is None else z_value_above
    _check_z(np.asarray(z_value), np.asarray(above))
    pieces = _pieces(time, kelvin, reference_temperature, z_value, above, lowest, highest)
    start = np.zeros((*kelvin.shape[:-1], 1))
    return np.concatenate([start, np.cumsum(pieces, axis=-1)], axis=-1)


def lethality_trapezoid(
    times: ArrayLike, temperatures: ArrayLike, *, reference_temperature: float, z_value: float
) -> Array:
    """Return the lethality by the trapezoid rule on the rate, for comparison with old tables.

    Parameters
    ----------
    times : array_like, shape (p,)
        Times of the points, never falling [s].
    temperatures : array_like, shape (..., p)
        Temperatures at the points [K].
    reference_temperature : float
        Temperature at which a second counts as a second [K].
    z_value : float
        Kelvin for a tenfold rate, above zero [K].

    Returns
    -------
    numpy.ndarray, shape (...)
        Equivalent time at the reference temperature, too long between coarse points [s].

    Raises
    ------
    InputError
        If shapes do not fit, times fall, or a number is missing.
    OutOfRangeError
        If z is not above zero.

    Notes
    -----
    F = Σ Δt (L1 + L2) / 2. The rate bends upward with temperature, so for straight lines between
    points this is never less than the exact sum: the unsafe side. Not meant for a verdict.

    References
    ----------
    warne_1988
        Trapezoid rule for equal steps of time.

    Examples
    --------
    >>> course = ([0, 60], [323.15, 343.15])
    >>> wrong = lethality_trapezoid(*course, reference_temperature=343.15, z_value=10.0)
    >>> float(wrong.round(3))
    30.3
    """
    time, kelvin = _course(times, temperatures)
    _check_z(np.asarray(z_value))
    rate = np.exp(_LN10 / z_value * (kelvin - reference_temperature))
    return np.asarray(((rate[..., 1:] + rate[..., :-1]) / 2.0 * np.diff(time)).sum(axis=-1))


def _course(times: ArrayLike, temperatures: ArrayLike) -> tuple[Array, Array]:
    time, kelvin = (np.asarray(x, dtype=np.float64) for x in (times, temperatures))
    if time.ndim != 1 or kelvin.ndim < 1 or kelvin.shape[-1] != len(time) or len(time) < 1:
        raise InputError(
            f"A course needs as many times as temperatures; got shapes {time.shape} and "
            f"{kelvin.shape}."
        )
    if not (np.isfinite(time).all() and np.isfinite(kelvin).all()):
        raise InputError("A course has a gap: leave missing readings out, or fill them in first.")
    if np.any(np.diff(time) < 0):
        raise InputError("The times of a course must never fall.")
    return time, kelvin


def _check_z(*values: Array) -> None:
    for value in values:
        if not np.all(value > 0):
            raise OutOfRangeError(f"A z of {np.min(value):g} K: it must be above zero.")


def _pieces(
    time: Array,
    kelvin: Array,
    reference: float,
    below: float,
    above: float,
    lowest: float,
    highest: float,
) -> Array:
    """Return the lethality of every straight piece, shape (..., p - 1)."""
    lasts = np.diff(time)
    if below == above:
        found = _band(lasts, kelvin, lowest, highest, reference, below)
    else:
        edge = max(lowest, reference)
        found = _band(lasts, kelvin, lowest, min(reference, highest), reference, below)
        found += _band(lasts, kelvin, edge, highest, reference, above)
    if np.isfinite(highest):
        # What runs above the highest temperature counts as a hold there.
        z = above if highest >= reference else below
        hot = _share(kelvin, highest, np.inf)
        rate = np.exp(_LN10 / z * (highest - reference))
        found += lasts * hot * (rate if highest >= lowest else 0.0)
    return found


def _band(
    lasts: Array, kelvin: Array, low: float, high: float, reference: float, z: float
) -> Array:
    """Return the lethality of what runs between two temperatures, the upper one left out."""
    if not high > low:
        return np.zeros((*kelvin.shape[:-1], len(lasts)))
    inside = np.clip(kelvin, low, high)
    slope = _LN10 / z
    rate = np.exp(slope * (inside - reference))
    half = slope / 2.0 * np.diff(inside, axis=-1)
    # tanh(u) / u, which is 1 for no change.
    bend = np.divide(np.tanh(half), half, out=np.ones_like(half), where=half != 0.0)
    mean = (rate[..., 1:] + rate[..., :-1]) / 2.0 * bend
    return np.asarray(lasts * mean * _share(kelvin, low, high))


def _share(kelvin: Array, low: float, high: float) -> Array:
    """Return the share of each piece that runs from `low` up to, but not at, `high`."""
    if low == -np.inf and high == np.inf:
        return np.ones((*kelvin.shape[:-1], kelvin.shape[-1] - 1))
    inside = np.abs(np.diff(np.clip(kelvin, low, high), axis=-1))
    whole = np.abs(np.diff(kelvin, axis=-1))
    flat = ((kelvin[..., :-1] >= low) & (kelvin[..., :-1] < high)).astype(np.float64)
    return np.divide(inside, whole, out=flat, where=whole > 0.0)
