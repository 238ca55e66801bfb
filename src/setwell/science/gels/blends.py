"""Two agents in one gel: synergy against the ratio, and networks side by side."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from setwell.errors import OutOfRangeError

Array = NDArray[np.float64]


def helped_gain(share: ArrayLike, *, best_share: ArrayLike, power: ArrayLike) -> Array:
    """Return how much a gel gains from a partner that does not gel by itself.

    At a constant total dose the strength relative to the pure gelling agent is
    share^power times this gain; that product is one for the pure agent, nothing without it,
    and largest at the best share.

    Parameters
    ----------
    share : array_like, shape (...)
        Mass share of the gelling agent in the pair, between 0 and 1 [-].
    best_share : array_like, shape (...)
        Share of the gelling agent where the pair is strongest; above power / (1 + power) [-].
    power : array_like, shape (...)
        Power with which the share of the gelling agent counts, above zero [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Gain, 1 or more [-].

    Raises
    ------
    OutOfRangeError
        If the best share does not lie between power / (1 + power) and 1.

    Notes
    -----
    g = 1 + m (1 - x) with m = p / (x_b (1 + p) - p), so that d(x^p g)/dx = 0 at x_b. Holds for
    shares between 0 and 1. Our own shape: the position of the best ratio is an input, the
    height follows from the power.

    References
    ----------
    brenner_2013
        That a best ratio exists, and that it differs between small and large strain.

    Examples
    --------
    >>> float(helped_gain(1.0, best_share=0.65, power=1.3))
    1.0
    >>> float(helped_gain(0.65, best_share=0.65, power=1.3).round(2))
    3.33
    """
    best = np.asarray(best_share, dtype=np.float64)
    p = np.asarray(power, dtype=np.float64)
    room = best * (1.0 + p) - p
    if np.any(room <= 0) or np.any(best >= 1):
        raise OutOfRangeError(
            "The best share of a helped gel must lie between power / (1 + power) and 1.",
            hint="Lower the power, or check the share.",
        )
    return np.asarray(1.0 + p / room * (1.0 - np.asarray(share, dtype=np.float64)))


def joint_shape(share: ArrayLike, *, best_share: ArrayLike, sharpness: float = 2.0) -> Array:
    """Return how well two agents that gel only together use their dose.

    Parameters
    ----------
    share : array_like, shape (...)
        Mass share of the first agent in the pair, between 0 and 1 [-].
    best_share : array_like, shape (...)
        Share where the pair works best, between 0 and 1 [-].
    sharpness : float
        How quickly it falls away from there, above zero [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        1 at the best share, 0 for either agent alone [-].

    Notes
    -----
    s = (x / x_b)^(k x_b) ((1 - x) / (1 - x_b))^(k (1 - x_b)), for shares between 0 and 1. Our own
    shape; the position of the best share is an input.

    References
    ----------
    wei_2017
        Best ratio of xanthan and locust bean gum.

    Examples
    --------
    >>> joint_shape([0.0, 0.6, 1.0], best_share=0.6)
    array([0., 1., 0.])
    """
    x = np.clip(np.asarray(share, dtype=np.float64), 0.0, 1.0)
    best = np.asarray(best_share, dtype=np.float64)
    rise = (x / best) ** (sharpness * best)
    fall = ((1.0 - x) / (1.0 - best)) ** (sharpness * (1.0 - best))
    return np.asarray(rise * fall)


def modulus_bounds_takayanagi(
    first: ArrayLike, second: ArrayLike, first_volume: ArrayLike
) -> tuple[Array, Array]:
    """Return the least and the most stiffness of two gels side by side.

    Parameters
    ----------
    first : array_like, shape (...)
        Modulus of the first gel in its own space, zero or more [Pa].
    second : array_like, shape (...)
        Modulus of the second gel in its own space, zero or more [Pa].
    first_volume : array_like, shape (...)
        Volume share of the first, between 0 and 1 [-].

    Returns
    -------
    tuple of numpy.ndarray, shape (...)
        Modulus with equal stress in both (series) and with equal strain (parallel) [Pa].

    Notes
    -----
    1/G = phi/G1 + (1 - phi)/G2 and G = phi G1 + (1 - phi) G2. The truth lies between, for gels
    that part into two phases; volumes must add up to one.

    References
    ----------
    takayanagi_1964
        Series and parallel models.

    Examples
    --------
    >>> [float(g) for g in modulus_bounds_takayanagi(1000.0, 3000.0, 0.5)]
    [1500.0, 2000.0]
    """
    g1, g2, phi = (np.asarray(part, dtype=np.float64) for part in (first, second, first_volume))
    bottom = phi * g2 + (1.0 - phi) * g1
    product = g1 * g2
    series = np.divide(product, bottom, out=np.zeros_like(product + bottom), where=bottom > 0)
    return np.asarray(series), np.asarray(phi * g1 + (1.0 - phi) * g2)


def plateau_share(share: ArrayLike, *, start: float, end: float) -> Array:
    """Return a share that stands still between two ratios.

    Parameters
    ----------
    share : array_like, shape (...)
        Mass share of an agent in the pair, between 0 and 1 [-].
    start : float
        Share where nothing more changes, between 0 and end [-].
    end : float
        Share where it goes on, between start and 1 [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        The share that counts: straight lines from 0 to the middle of the plateau and on to 1 [-].

    Notes
    -----
    By definition x between 0 and x_1 and from x_2 to 1 on straight lines, and (x_1 + x_2) / 2
    between x_1 and x_2. Our own bookkeeping for a published plateau of the modulus of kappa with
    iota carrageenan.

    References
    ----------
    brenner_2014
        Plateau of the modulus at 4 to 3 up to 2 to 1 iota to kappa in 75 or 150 mmol/L potassium.

    Examples
    --------
    >>> plateau_share([0.0, 0.5, 0.6, 0.7, 1.0], start=0.5, end=0.7).round(3)
    array([0. , 0.6, 0.6, 0.6, 1. ])
    """
    middle = (start + end) / 2.0
    places, counts = (0.0, start, end, 1.0), (0.0, middle, middle, 1.0)
    return np.asarray(np.interp(np.asarray(share, dtype=np.float64), places, counts))
