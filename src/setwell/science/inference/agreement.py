"""Do measurements of the same thing agree, and how much wider must the doubt be if not?"""

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

# Standard normal deviate that is exceeded once in a hundred.
_DEVIATE_99 = 2.3263479


class Scatter(NamedTuple):
    """Squared distance of measurements from their own best fit, and its degrees of freedom."""

    chi_squared: float
    degrees: int


def repeat_scatter(design: ArrayLike, *, observed: ArrayLike, variance: ArrayLike) -> Scatter:
    """Return how far measurements scatter around the best fit to themselves alone.

    Parameters
    ----------
    design : array_like, shape (m, p)
        How much of each unknown is in each measurement [-].
    observed : array_like, shape (m,)
        What was measured [-].
    variance : array_like, shape (m,)
        Variance of each measurement, above zero [-].

    Returns
    -------
    Scatter
        Chi-squared and its degrees of freedom, m minus the rank of the design [-].

    Notes
    -----
    chi^2 = min over x of sum (y - A x)^2 / r. For independent normal doubts; no prior takes
    part, so measurements that agree with each other agree whatever was expected of them.

    References
    ----------
    birge_1932
        Consistency of measurements of one quantity judged by their scatter.

    Examples
    --------
    Two readings two standard deviations of their difference apart:

    >>> found = repeat_scatter([[1.0], [1.0]], observed=[0.0, 2.0], variance=[0.5, 0.5])
    >>> round(found.chi_squared, 6), found.degrees
    (4.0, 1)
    """
    values = np.asarray(observed, dtype=np.float64)
    weight = 1.0 / np.sqrt(np.asarray(variance, dtype=np.float64))
    rows = np.asarray(design, dtype=np.float64) * weight[:, None]
    fit, _, rank, _ = np.linalg.lstsq(rows, values * weight, rcond=None)
    left = values * weight - rows @ fit
    return Scatter(float(left @ left), len(values) - int(rank))


def chi_squared_limit(degrees: ArrayLike) -> Array:
    """Return the chi-squared that chance exceeds once in a hundred times.

    Parameters
    ----------
    degrees : array_like, shape (...)
        Degrees of freedom, 1 or more [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        The 99 % point of chi-squared [-].

    Notes
    -----
    chi^2 = k (1 - 2 / (9 k) + z sqrt(2 / (9 k)))^3 with z = 2.3263. Holds to 1 % of the printed
    tables for one degree and to 0.3 % from two on.

    References
    ----------
    wilson_hilferty_1931
        The cube root of chi-squared is close to normal.

    Examples
    --------
    >>> chi_squared_limit([2, 10]).round(2)
    array([ 9.22, 23.24])
    """
    k = np.asarray(degrees, dtype=np.float64)
    small = 2.0 / (9.0 * k)
    return np.asarray(k * (1.0 - small + _DEVIATE_99 * np.sqrt(small)) ** 3)


def birge_ratio(chi_squared: ArrayLike, *, degrees: ArrayLike) -> Array:
    """Return by how much stated doubts must grow for measurements to agree.

    Parameters
    ----------
    chi_squared : array_like, shape (...)
        Squared distance of the measurements from their fit [-].
    degrees : array_like, shape (...)
        Degrees of freedom, 1 or more [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Factor on every standard deviation, never below 1 [-].

    Notes
    -----
    R_B = sqrt(chi^2 / k), and 1 when the measurements agree better than their doubts. With few
    measurements the factor is itself rough: the caller adds the distance to each of them.

    References
    ----------
    birge_1932
        The ratio of outer to inner doubt.

    Examples
    --------
    >>> birge_ratio([4.0, 0.3], degrees=[1, 1])
    array([2., 1.])
    """
    ratio = np.asarray(chi_squared, dtype=np.float64) / np.asarray(degrees, dtype=np.float64)
    return np.asarray(np.sqrt(np.maximum(ratio, 1.0)))
