"""Bodies of one temperature: thin, or well stirred."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from setwell.errors import OutOfRangeError

Array = NDArray[np.float64]


def lumped_share(
    elapsed: ArrayLike, *, capacity: ArrayLike, coefficient: ArrayLike, area: ArrayLike
) -> Array:
    """Return what is left of the difference to the surroundings in a body of one temperature.

    Parameters
    ----------
    elapsed : array_like, shape (...)
        Time, zero or more [s].
    capacity : array_like, shape (...)
        Heat capacity of the body, above zero [J/K].
    coefficient : array_like, shape (...)
        Heat transfer coefficient at its surface [W/m2K].
    area : array_like, shape (...)
        Its surface [m2].

    Returns
    -------
    numpy.ndarray, shape (...)
        (T - T_air) / (T_start - T_air) [-].

    Raises
    ------
    OutOfRangeError
        If the capacity is not above zero, or anything else below it.

    Notes
    -----
    s = e^(-h A t / C). Valid within about 5 % while the coefficient times volume over surface and
    conductivity is below 0.1.

    References
    ----------
    incropera_2007
        The lumped capacitance method and its condition.

    Examples
    --------
    >>> lumped_share([0.0, 100.0], capacity=400.0, coefficient=8.0, area=0.5).round(6)
    array([1.      , 0.367879])
    """
    time, c, h, a = (
        np.asarray(value, dtype=np.float64) for value in (elapsed, capacity, coefficient, area)
    )
    if not (np.all(c > 0) and np.all(h >= 0) and np.all(a >= 0) and np.all(time >= 0)):
        raise OutOfRangeError(
            "A heat capacity must be above zero; a coefficient, area and time zero or more."
        )
    return np.asarray(np.exp(-h * a * time / c))


def lumped_time(
    share: ArrayLike, *, capacity: ArrayLike, coefficient: ArrayLike, area: ArrayLike
) -> Array:
    """Return how long a body of one temperature takes to fall to a share of the difference.

    Parameters
    ----------
    share : array_like, shape (...)
        (T - T_air) / (T_start - T_air) to reach, 0 to 1 [-].
    capacity : array_like, shape (...)
        Heat capacity of the body [J/K].
    coefficient : array_like, shape (...)
        Heat transfer coefficient at its surface, above zero [W/m2K].
    area : array_like, shape (...)
        Its surface, above zero [m2].

    Returns
    -------
    numpy.ndarray, shape (...)
        Time, infinite for a share of zero [s].

    Raises
    ------
    OutOfRangeError
        If the share is not from 0 to 1, or a quantity not above zero.

    Notes
    -----
    t = -(C / (h A)) ln s. Valid as lumped_share.

    References
    ----------
    incropera_2007
        The lumped capacitance method.

    Examples
    --------
    >>> import numpy as np
    >>> lumped_time([1.0, np.exp(-1.0)], capacity=400.0, coefficient=8.0, area=0.5).round(6)
    array([  0., 100.])
    """
    wanted = np.asarray(share, dtype=np.float64)
    scale = np.asarray(coefficient, dtype=np.float64) * np.asarray(area, dtype=np.float64)
    c = np.asarray(capacity, dtype=np.float64)
    if not (np.all((wanted >= 0) & (wanted <= 1)) and np.all(scale > 0) and np.all(c > 0)):
        raise OutOfRangeError(
            "A share must lie between 0 and 1; capacity, coefficient and area above zero."
        )
    with np.errstate(divide="ignore"):
        return np.asarray(np.abs(np.log(wanted)) * c / scale)
