"""How heat kills: decimal reduction times, log reductions, and the z behind a table."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from setwell.errors import OutOfRangeError

Array = NDArray[np.float64]


def decimal_reduction_time(
    temperature: ArrayLike,
    *,
    reference_time: ArrayLike,
    reference_temperature: ArrayLike,
    z_value: ArrayLike,
) -> Array:
    """Return the time that leaves one in ten alive.

    Parameters
    ----------
    temperature : array_like, shape (...)
        Temperature of the food [K].
    reference_time : array_like, shape (...)
        The same time at the reference temperature, above zero [s].
    reference_temperature : array_like, shape (...)
        Where that time was measured [K].
    z_value : array_like, shape (...)
        Kelvin for a tenfold rate, above zero [K].

    Returns
    -------
    numpy.ndarray, shape (...)
        Decimal reduction time D [s].

    Notes
    -----
    D(T) = D(T_ref) 10^((T_ref - T) / z). Meant for the tested range; authors of food process
    tables advise against going more than 5.56 K past it.

    References
    ----------
    thomas_1966
        The line and how far it may be drawn.

    Examples
    --------
    E. coli O157:H7 in apple juice, 18 min at 52 °C with z 4.8 K, in minutes at 60 °C:

    >>> D = decimal_reduction_time(
    ...     333.15, reference_time=1080, reference_temperature=325.15, z_value=4.8
    ... )
    >>> float((D / 60).round(4))
    0.3878
    """
    ref, z, kelvin = (
        np.asarray(x, np.float64) for x in (reference_temperature, z_value, temperature)
    )
    return np.asarray(np.asarray(reference_time, np.float64) * 10.0 ** ((ref - kelvin) / z))


def log_reduction(equivalent_time: ArrayLike, *, reference_time: ArrayLike) -> Array:
    """Return how many times nine in ten were killed.

    Parameters
    ----------
    equivalent_time : array_like, shape (...)
        Lethality of the course at the reference temperature [s].
    reference_time : array_like, shape (...)
        Decimal reduction time at the same temperature, above zero [s].

    Returns
    -------
    numpy.ndarray, shape (...)
        Decimal logarithm of what was there over what is left [-].

    Notes
    -----
    N = F / D. Holds for destruction of first order; a lag before it makes the figure too high.

    References
    ----------
    earle_1983
        Lethality as a number of decimal reductions.

    Examples
    --------
    The classical sterilizing cook, twelve reductions at a D of 0.21 min:

    >>> float(log_reduction(2.52 * 60, reference_time=0.21 * 60).round(9))
    12.0
    """
    return np.asarray(
        np.asarray(equivalent_time, np.float64) / np.asarray(reference_time, np.float64)
    )


def z_between(
    temperature_1: ArrayLike, time_1: ArrayLike, temperature_2: ArrayLike, time_2: ArrayLike
) -> Array:
    """Return the z that makes two rows of a table equally lethal.

    Parameters
    ----------
    temperature_1 : array_like, shape (...)
        Temperature of one row [K].
    time_1 : array_like, shape (...)
        Its time, above zero [s].
    temperature_2 : array_like, shape (...)
        Temperature of the other row [K].
    time_2 : array_like, shape (...)
        Its time, above zero and not the same [s].

    Returns
    -------
    numpy.ndarray, shape (...)
        Kelvin for a tenfold rate [K].

    Notes
    -----
    z = (T2 - T1) / log10(t1 / t2). It holds for the two rows; new rows are not to be made of it.

    References
    ----------
    cfr_9_590_570
        Pairs of rows that share one z.

    Examples
    --------
    6.2 min at 60 °C and 3.5 min 2 °F warmer:

    >>> float(z_between(333.15, 6.2, 333.15 + 2 / 1.8, 3.5).round(2))
    4.47
    """
    t1, t2 = np.asarray(time_1, np.float64), np.asarray(time_2, np.float64)
    warmer = np.asarray(temperature_2, np.float64) - np.asarray(temperature_1, np.float64)
    return np.asarray(warmer / np.log10(t1 / t2))


def z_fitted(temperatures: ArrayLike, times: ArrayLike) -> float:
    """Return the z of the straight line through several rows.

    Parameters
    ----------
    temperatures : array_like, shape (k,)
        Temperatures of the rows, two or more different ones [K].
    times : array_like, shape (k,)
        Decimal reduction times or hold times, above zero [s].

    Returns
    -------
    float
        Kelvin for a tenfold rate [K].

    Raises
    ------
    OutOfRangeError
        If a time is not above zero, or the temperatures are all the same.

    Notes
    -----
    Least squares of log10 t = a - T / z. Valid where the points lie on a line.

    References
    ----------
    salmonella_yolk_2011
        D at five temperatures; the authors print a z of 4.7 K.

    Examples
    --------
    >>> kelvin = [331.15, 333.15, 335.15, 337.15, 339.15]
    >>> round(z_fitted(kelvin, [1.83, 0.69, 0.26, 0.096, 0.036]), 2)
    4.69
    """
    kelvin, time = (np.asarray(x, dtype=np.float64) for x in (temperatures, times))
    if not np.all(time > 0) or np.ptp(kelvin) == 0.0:
        raise OutOfRangeError("A z needs times above zero at two or more temperatures.")
    slope = np.polyfit(kelvin - kelvin.mean(), np.log10(time), 1)[0]
    return float(-1.0 / slope)
