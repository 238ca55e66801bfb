"""Food so thick that its far side does not notice yet."""

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import erfc, erfcx

from setwell.errors import OutOfRangeError

Array = NDArray[np.float64]

_HALVINGS = 80


def semi_infinite_share(
    depth: ArrayLike,
    elapsed: ArrayLike,
    *,
    conductivity: ArrayLike,
    diffusivity: ArrayLike,
    coefficient: ArrayLike,
) -> Array:
    """Return how far a depth below the surface has come toward the surroundings.

    Parameters
    ----------
    depth : array_like, shape (...)
        Distance from the surface, zero or more [m].
    elapsed : array_like, shape (...)
        Time since the surroundings changed, zero or more [s].
    conductivity : array_like, shape (...)
        Thermal conductivity, above zero [W/mK].
    diffusivity : array_like, shape (...)
        Thermal diffusivity, above zero [m2/s].
    coefficient : array_like, shape (...)
        Heat transfer coefficient at the surface; infinity holds the surface at the surroundings
        [W/m2K].

    Returns
    -------
    numpy.ndarray, shape (...)
        (T - T_start) / (T_air - T_start), from 0 to 1 [-].

    Raises
    ------
    OutOfRangeError
        If a depth, time or coefficient is below zero, or a property not above it.

    Notes
    -----
    s = erfc(n) - e^(-n^2) erfcx(n + h sqrt(a t) / k), n = x / (2 sqrt(a t)). The scaled erfcx
    cannot overflow. Valid while the heat has not crossed the body: a t below about a twentieth of
    the square of its thickness.

    References
    ----------
    carslaw_jaeger_1959
        The semi-infinite solid with radiation at its surface.

    Examples
    --------
    >>> found = semi_infinite_share([0.0, 0.03312], 18000.0, conductivity=0.865,
    ...     diffusivity=4.65e-7, coefficient=11.36)
    >>> (15.6 - 33.4 * found).round(3)
    array([-5.168, -0.   ])
    """
    x, time, k, a, h = (
        np.asarray(value, dtype=np.float64)
        for value in (depth, elapsed, conductivity, diffusivity, coefficient)
    )
    if not (np.all(x >= 0) and np.all(time >= 0) and np.all(h >= 0)):
        raise OutOfRangeError("A depth, a time and a coefficient must be zero or more.")
    if not (np.all(k > 0) and np.all(a > 0)):
        raise OutOfRangeError("Conductivity and diffusivity must be above zero.")
    reach = np.sqrt(a * np.where(time > 0, time, 1.0))
    depths = x / (2.0 * reach)
    with np.errstate(under="ignore"):
        warmed = erfc(depths) - np.exp(-(depths**2)) * erfcx(depths + h * reach / k)
    return np.asarray(np.where(time > 0, np.maximum(warmed, 0.0), 0.0))


def semi_infinite_depth(
    share: ArrayLike,
    elapsed: float,
    *,
    conductivity: float,
    diffusivity: float,
    coefficient: float,
) -> Array:
    """Return how deep a change has come.

    Parameters
    ----------
    share : array_like, shape (...)
        (T - T_start) / (T_air - T_start) to find, above zero [-].
    elapsed : float
        Time since the surroundings changed, above zero [s].
    conductivity : float
        Thermal conductivity [W/mK].
    diffusivity : float
        Thermal diffusivity [m2/s].
    coefficient : float
        Heat transfer coefficient at the surface, up to infinity [W/m2K].

    Returns
    -------
    numpy.ndarray, shape (...)
        Depth; not a number where not even the surface has come so far [m].

    Raises
    ------
    OutOfRangeError
        If the share or the time is not above zero.

    Notes
    -----
    Solves s(x) = share by halving, since s falls with the depth all the way. Valid as
    semi_infinite_share.

    References
    ----------
    carslaw_jaeger_1959
        The semi-infinite solid with radiation at its surface.

    Examples
    --------
    >>> import numpy as np
    >>> float(semi_infinite_depth(20 / 35, 60 * 86400.0, conductivity=0.52,
    ...     diffusivity=0.52 / (2050 * 1840), coefficient=np.inf).round(4))
    0.6766
    """
    wanted = np.asarray(share, dtype=np.float64)
    if not (np.all(wanted > 0) and elapsed > 0):
        raise OutOfRangeError("A share and a time to look for must be above zero.")

    def at(depth: Array | float) -> Array:
        return semi_infinite_share(
            depth, elapsed, conductivity=conductivity, diffusivity=diffusivity,
            coefficient=coefficient,
        )  # fmt: skip

    low = np.zeros_like(wanted)
    # Nothing that can be told from zero comes deeper than this.
    high = np.full_like(wanted, 60.0 * np.sqrt(diffusivity * elapsed))
    for _ in range(_HALVINGS):
        middle = (low + high) / 2.0
        is_above = at(middle) > wanted
        low, high = np.where(is_above, middle, low), np.where(is_above, high, middle)
    return np.asarray(np.where(at(0.0) >= wanted, (low + high) / 2.0, np.nan))
