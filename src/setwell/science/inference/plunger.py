"""From grams on a kitchen scale under a flat plunger to stress."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

# Standard acceleration of free fall, m/s2, by definition; a scale shows force in grams.
_FREE_FALL = 9.80665


def load_stress(load: ArrayLike, *, radius: ArrayLike) -> Array:
    """Return the mean stress under a flat round plunger.

    Parameters
    ----------
    load : array_like, shape (...)
        What the scale shows [kg].
    radius : array_like, shape (...)
        Radius of the plunger, above zero [m].

    Returns
    -------
    numpy.ndarray, shape (...)
        Force per area of the plunger [Pa].

    Notes
    -----
    sigma = m g / (pi a^2), by definition; holds for a flat end that is wholly in touch.

    References
    ----------
    johnson_1985
        Flat round punch on a flat surface.

    Examples
    --------
    300 g on 1 cm2:

    >>> round(float(load_stress(0.300, radius=0.0056419)))
    29420
    """
    radius = np.asarray(radius, dtype=np.float64)
    return np.asarray(np.asarray(load, dtype=np.float64) * _FREE_FALL / (np.pi * radius**2))
