"""Water that a gel gives off with time."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def syneresis_share(
    time: ArrayLike, *, shrink_rate: ArrayLike, yield_rate: ArrayLike, shrink_share: float
) -> Array:
    """Return how much of its loose water a gel has given off by a time.

    Parameters
    ----------
    time : array_like, shape (...)
        Time since the gel set, zero or more [s].
    shrink_rate : array_like, shape (...)
        Rate of the slow shrinking, above zero [1/s].
    yield_rate : array_like, shape (...)
        Rate of the quicker giving way, above zero [1/s].
    shrink_share : float
        Part of the water that goes with the slow rate, between 0 and 1 [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Share of the water given off in the long run, from 0 to 1 [-].

    Notes
    -----
    s = 1 - a exp(-k1 t) - (1 - a) exp(-k2 t). The two rates are printed for 0.2 % kappa in 40
    mmol/L KCl: 0.035 per hour, and 0.07 (soft gel) to 0.33 per hour (stiff gel). How the water
    splits between them is our own half and half. Valid for a covered gel kept cold, undisturbed.

    References
    ----------
    ako_2017
        Sum of two exponentials and its rates.

    Examples
    --------
    After a day, rates per hour:

    >>> round(float(syneresis_share(24 * 3600, shrink_rate=0.035 / 3600, yield_rate=0.2 / 3600,
    ...     shrink_share=0.5)), 3)
    0.78
    """
    seconds = np.asarray(time, dtype=np.float64)
    slow = np.exp(-np.asarray(shrink_rate, dtype=np.float64) * seconds)
    quick = np.exp(-np.asarray(yield_rate, dtype=np.float64) * seconds)
    return np.asarray(1.0 - shrink_share * slow - (1.0 - shrink_share) * quick)
