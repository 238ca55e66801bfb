"""Conductivity of a food from the conductivities of its phases."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def conductivity_parallel(conductivities: ArrayLike, *, fractions: ArrayLike) -> Array:
    """Return the conductivity of parts that lie side by side along the flow of heat.

    Parameters
    ----------
    conductivities : array_like, shape (..., c)
        Thermal conductivity of each part [W/m/K].
    fractions : array_like, shape (..., c)
        Volume fraction of each part, summing to one [m3/m3].

    Returns
    -------
    numpy.ndarray, shape (...)
        Thermal conductivity, the upper bound of any mixture [W/m/K].

    Notes
    -----
    k = sum(v_i k_i). Meant for an upper bound; watery foods lie 2 to 3 % below it.

    References
    ----------
    ashrae_2006
        The rule, recalled.

    Examples
    --------
    >>> float(conductivity_parallel([0.6, 0.2], fractions=[0.75, 0.25]).round(4))
    0.5
    """
    parts = np.asarray(fractions, dtype=np.float64) * np.asarray(conductivities)
    return np.asarray(parts.sum(axis=-1))


def conductivity_series(conductivities: ArrayLike, *, fractions: ArrayLike) -> Array:
    """Return the conductivity of parts that lie across the flow of heat.

    Parameters
    ----------
    conductivities : array_like, shape (..., c)
        Thermal conductivity of each part, above zero [W/m/K].
    fractions : array_like, shape (..., c)
        Volume fraction of each part, summing to one [m3/m3].

    Returns
    -------
    numpy.ndarray, shape (...)
        Thermal conductivity, the lower bound of any mixture [W/m/K].

    Notes
    -----
    1 / k = sum(v_i / k_i). Meant for a lower bound; watery foods lie about 11 % above it.

    References
    ----------
    ashrae_2006
        The rule, recalled.

    Examples
    --------
    >>> float(conductivity_series([0.6, 0.2], fractions=[0.75, 0.25]).round(4))
    0.4
    """
    parts = np.asarray(fractions, dtype=np.float64) / np.asarray(conductivities)
    return np.asarray(1.0 / parts.sum(axis=-1))


def conductivity_maxwell_eucken(
    continuous: ArrayLike, dispersed: ArrayLike, *, dispersed_fraction: ArrayLike
) -> Array:
    """Return the conductivity of small round parts far apart in a continuous phase.

    Parameters
    ----------
    continuous : array_like, shape (...)
        Thermal conductivity of the continuous phase, above zero [W/m/K].
    dispersed : array_like, shape (...)
        Thermal conductivity of the dispersed phase [W/m/K].
    dispersed_fraction : array_like, shape (...)
        Volume fraction of the dispersed phase, 0 to 1 [m3/m3].

    Returns
    -------
    numpy.ndarray, shape (...)
        Thermal conductivity [W/m/K].

    Notes
    -----
    k = k_c (2 k_c + k_d - 2 v (k_c - k_d)) / (2 k_c + k_d + v (k_c - k_d)). Meant for scattered
    spheres, and good for watery foods: mean error 1.7 % over 31 measured values.

    References
    ----------
    eucken_1940
        The rule, recalled.
    ashrae_2006
        Its use for food, recalled.

    Examples
    --------
    >>> float(conductivity_maxwell_eucken(0.6, 0.2, dispersed_fraction=0.25).round(4))
    0.48
    """
    outer, inner = np.asarray(continuous, dtype=np.float64), np.asarray(dispersed)
    gap = np.asarray(dispersed_fraction) * (outer - inner)
    return np.asarray(outer * (2.0 * outer + inner - 2.0 * gap) / (2.0 * outer + inner + gap))


def conductivity_kopelman_isotropic(
    continuous: ArrayLike, dispersed: ArrayLike, *, dispersed_fraction: ArrayLike
) -> Array:
    """Return the conductivity of cubes stacked in a continuous phase.

    Parameters
    ----------
    continuous : array_like, shape (...)
        Thermal conductivity of the continuous phase, above zero [W/m/K].
    dispersed : array_like, shape (...)
        Thermal conductivity of the dispersed phase [W/m/K].
    dispersed_fraction : array_like, shape (...)
        Volume fraction of the dispersed phase, 0 to 1 [m3/m3].

    Returns
    -------
    numpy.ndarray, shape (...)
        Thermal conductivity [W/m/K].

    Notes
    -----
    k = k_c (1 - Q) / (1 - Q (1 - L)) with L = v^(1/3) and Q = L^2 (1 - k_d / k_c). Meant for
    foods alike in all directions; where k_c is far above k_d, Q becomes L^2.

    References
    ----------
    kopelman_1966
        The rule, recalled.

    Examples
    --------
    >>> float(conductivity_kopelman_isotropic(0.6, 0.2, dispersed_fraction=0.25).round(4))
    0.4891
    """
    side = np.cbrt(np.asarray(dispersed_fraction, dtype=np.float64))
    return _stacked(continuous, side**2 * _shortfall(continuous, dispersed), side)


def conductivity_kopelman_along(
    continuous: ArrayLike, dispersed: ArrayLike, *, dispersed_fraction: ArrayLike
) -> Array:
    """Return the conductivity along the fibers of a fibrous food.

    Parameters
    ----------
    continuous : array_like, shape (...)
        Thermal conductivity of the continuous phase, above zero [W/m/K].
    dispersed : array_like, shape (...)
        Thermal conductivity of the fibers [W/m/K].
    dispersed_fraction : array_like, shape (...)
        Volume fraction of the fibers, 0 to 1 [m3/m3].

    Returns
    -------
    numpy.ndarray, shape (...)
        Thermal conductivity along the fibers [W/m/K].

    Notes
    -----
    k = k_c (1 - v (1 - k_d / k_c)), which is the parallel rule. Meant for fibers of one direction.

    References
    ----------
    kopelman_1966
        The rule, recalled.

    Examples
    --------
    >>> float(conductivity_kopelman_along(0.6, 0.2, dispersed_fraction=0.25).round(4))
    0.5
    """
    share = np.asarray(dispersed_fraction, dtype=np.float64)
    outer = np.asarray(continuous, dtype=np.float64)
    return np.asarray(outer * (1.0 - share * _shortfall(continuous, dispersed)))


def conductivity_kopelman_across(
    continuous: ArrayLike, dispersed: ArrayLike, *, dispersed_fraction: ArrayLike
) -> Array:
    """Return the conductivity across the fibers of a fibrous food.

    Parameters
    ----------
    continuous : array_like, shape (...)
        Thermal conductivity of the continuous phase, above zero [W/m/K].
    dispersed : array_like, shape (...)
        Thermal conductivity of the fibers [W/m/K].
    dispersed_fraction : array_like, shape (...)
        Volume fraction of the fibers, 0 to 1 [m3/m3].

    Returns
    -------
    numpy.ndarray, shape (...)
        Thermal conductivity across the fibers [W/m/K].

    Notes
    -----
    k = k_c (1 - P) / (1 - P (1 - N)) with N = v^(1/2) and P = N (1 - k_d / k_c). Meant for fibers
    of one direction.

    References
    ----------
    kopelman_1966
        The rule, recalled.

    Examples
    --------
    >>> float(conductivity_kopelman_across(0.6, 0.2, dispersed_fraction=0.25).round(4))
    0.48
    """
    side = np.sqrt(np.asarray(dispersed_fraction, dtype=np.float64))
    return _stacked(continuous, side * _shortfall(continuous, dispersed), side)


def conductivity_levy(first: ArrayLike, second: ArrayLike, *, first_fraction: ArrayLike) -> Array:
    """Return the conductivity of two phases, whichever of them is continuous.

    Parameters
    ----------
    first : array_like, shape (...)
        Thermal conductivity of one phase, above zero [W/m/K].
    second : array_like, shape (...)
        Thermal conductivity of the other phase, above zero [W/m/K].
    first_fraction : array_like, shape (...)
        Volume fraction of the first phase, 0 to 1 [m3/m3].

    Returns
    -------
    numpy.ndarray, shape (...)
        Thermal conductivity [W/m/K].

    Notes
    -----
    k = k_2 (2 + r + 2 (r - 1) F) / (2 + r - (r - 1) F) with r = k_1 / k_2 and F = (a - (a^2 -
    8 R / s)^0.5) / 2, where a = 2 / s - 1 + 2 R, s = (r - 1)^2 / ((r + 1)^2 + r / 2) and R the
    volume fraction of the first phase. Meant for mixtures without a clear continuous phase: it
    gives the same whichever phase is called the first.

    References
    ----------
    levy_1981
        The rule, recalled.

    Examples
    --------
    >>> float(conductivity_levy(0.6, 0.2, first_fraction=0.75).round(4))
    0.4692
    >>> float(conductivity_levy(0.2, 0.6, first_fraction=0.25).round(4))
    0.4692
    """
    other = np.asarray(second, dtype=np.float64)
    ratio = np.asarray(first, dtype=np.float64) / other
    share = np.asarray(first_fraction, dtype=np.float64)
    spread = (ratio - 1.0) ** 2 / ((ratio + 1.0) ** 2 + ratio / 2.0)
    # The root written without a division by the spread, which is zero for two equal phases.
    middle = 2.0 - spread + 2.0 * share * spread
    root = np.sqrt(np.maximum(middle**2 - 8.0 * share * spread, 0.0))
    moved = 4.0 * share / (middle + root)
    rise = (ratio - 1.0) * moved
    return np.asarray(other * (2.0 + ratio + 2.0 * rise) / (2.0 + ratio - rise))


def _shortfall(continuous: ArrayLike, dispersed: ArrayLike) -> Array:
    outer = np.asarray(continuous, dtype=np.float64)
    return np.asarray(1.0 - np.asarray(dispersed, dtype=np.float64) / outer)


def _stacked(continuous: ArrayLike, blocked: Array, side: Array) -> Array:
    outer = np.asarray(continuous, dtype=np.float64)
    return np.asarray(outer * (1.0 - blocked) / (1.0 - blocked * (1.0 - side)))
