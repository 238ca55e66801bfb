"""Points that fill a space more evenly than chance would, and the spreads they stand for."""

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import ndtri

from setwell.errors import OutOfRangeError

Array = NDArray[np.float64]

_POWER_MOST = 20
# A point on the very edge would stand for an infinite deviation.
_EDGE = 1e-12


def sobol_points(dimensions: int, *, doublings: int, scrambles: int, seed: int) -> Array:
    """Return the points of a few independently scrambled Sobol sequences.

    Parameters
    ----------
    dimensions : int
        Number of things that vary, 1 or more [-].
    doublings : int
        Each sequence has two to this power of points, 0 to 20 [-].
    scrambles : int
        Number of sequences, 1 or more; what they differ by is the error of a mean [-].
    seed : int
        Where the scrambling starts; the same seed gives the same points [-].

    Returns
    -------
    numpy.ndarray, shape (scrambles * 2**doublings, dimensions)
        Points above 0 and below 1, one sequence after the other [-].

    Raises
    ------
    OutOfRangeError
        When a number is outside of its range.

    Notes
    -----
    Definition: each sequence is a digital net, whose points are scrambled by a random linear
    matrix and a shift, and never cut short, for its balance holds for powers of two only.
    The mean over one sequence is unbiased and converges faster than 1/sqrt(n) for smooth functions.

    References
    ----------
    sobol_1967
        The sequence.
    owen_1998
        Scrambling, which makes the error of the mean measurable.

    Examples
    --------
    >>> points = sobol_points(2, doublings=3, scrambles=2, seed=7)
    >>> points.shape
    (16, 2)
    >>> sorted((points[:8, 0] * 8).astype(int).tolist())
    [0, 1, 2, 3, 4, 5, 6, 7]
    """
    if dimensions < 1 or scrambles < 1 or not 0 <= doublings <= _POWER_MOST:
        raise OutOfRangeError(
            f"{scrambles} sequences of 2^{doublings} points in {dimensions} dimensions cannot be "
            "drawn.",
            field="draws",
            hint="Ask for at least one of each, and at most 2^20 points.",
        )
    # Loaded here because it takes longer than all the rest of this package.
    from scipy.stats.qmc import Sobol  # noqa: PLC0415

    parts = [
        Sobol(dimensions, scramble=True, rng=np.random.default_rng([seed, number])).random_base2(
            doublings
        )
        for number in range(scrambles)
    ]
    return np.clip(np.concatenate(parts), _EDGE, 1.0 - _EDGE)


def normal_draws(points: ArrayLike) -> Array:
    """Return standard normal deviates.

    Parameters
    ----------
    points : array_like, shape (...)
        Points above 0 and below 1 [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Deviates with mean 0 and standard deviation 1 [-].

    Notes
    -----
    z = Phi^-1(u), with Phi the normal distribution function. Exact for 0 < u < 1.

    References
    ----------
    jcgm_101_2008
        Drawing by the inverse of the distribution function.

    Examples
    --------
    >>> normal_draws([0.5, 0.975]).round(3).tolist()
    [0.0, 1.96]
    """
    return np.asarray(ndtri(np.asarray(points, dtype=np.float64)))


def lognormal_draws(points: ArrayLike, *, log_deviation: ArrayLike) -> Array:
    """Return factors around 1, as often above as below on the log axis.

    Parameters
    ----------
    points : array_like, shape (...)
        Points above 0 and below 1 [-].
    log_deviation : array_like, shape (...)
        Standard deviation of the natural log, zero or more [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Factors with median 1 [-].

    Notes
    -----
    f = exp(s Phi^-1(u)). Meant for amounts that cannot be negative; for small s it is a normal
    spread of s times the amount.

    References
    ----------
    jcgm_101_2008
        Drawing by the inverse of the distribution function.

    Examples
    --------
    >>> lognormal_draws([0.5, 0.975], log_deviation=0.1).round(4).tolist()
    [1.0, 1.2165]
    """
    return np.exp(np.asarray(log_deviation) * normal_draws(points))


def scale_draws(points: ArrayLike, *, target_mass: ArrayLike, readability: float) -> Array:
    """Return what really lies on a scale whose display is brought next to a target.

    Parameters
    ----------
    points : array_like, shape (n, ...)
        Points above 0 and below 1 [-].
    target_mass : array_like, shape (...)
        What should be weighed, zero or more [any unit of mass].
    readability : float
        The smallest step of the display, above zero, in the same unit [any unit of mass].

    Returns
    -------
    numpy.ndarray, shape (n, ...)
        True masses, zero or more, in the same unit [any unit of mass].

    Raises
    ------
    OutOfRangeError
        When the readability is zero or less.

    Notes
    -----
    m = d round(t / d) + d (u - 1/2): the display shows the step next to the target, and the
    truth lies anywhere within half a step of it. A target of less than half a step shows as
    zero; anything up to one step may then lie there. Holds for a scale that is level and tared; its
    calibration comes on top.

    References
    ----------
    jcgm_100_2008
        Resolution of a digital display as a rectangular spread, F.2.2.1.

    Examples
    --------
    Invented: 2.3 g on a scale that shows whole grams, at its worst and best.

    >>> scale_draws([0.0, 0.5, 1.0], target_mass=2.3, readability=1.0).tolist()
    [1.5, 2.0, 2.5]
    """
    if not readability > 0:
        raise OutOfRangeError(
            f"A scale that reads to {readability:g} g shows nothing.",
            field="scale_g",
            hint="Give the smallest step of its display, for example 1 or 0.1 g.",
        )
    target = np.asarray(target_mass, dtype=np.float64)
    u = np.asarray(points, dtype=np.float64)
    steps = np.floor(target / readability + 0.5)
    middle = np.where((steps < 1.0) & (target > 0), 0.5, steps)
    return np.where(target > 0, np.maximum(readability * (middle + u - 0.5), 0.0), target)
