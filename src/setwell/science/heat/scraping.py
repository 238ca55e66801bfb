"""Heat into a liquid whose layer at the base is renewed by stirring."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def scraped_coefficient(
    interval: ArrayLike, *, conductivity: ArrayLike, heat_capacity: ArrayLike, density: ArrayLike
) -> Array:
    """Return the mean heat transfer at a face that is scraped at intervals.

    Parameters
    ----------
    interval : array_like, shape (...)
        Time from one scrape of a spot to the next, above zero [s].
    conductivity : array_like, shape (...)
        Thermal conductivity of the liquid [W/mK].
    heat_capacity : array_like, shape (...)
        Heat capacity of the liquid [J/kgK].
    density : array_like, shape (...)
        Density of the liquid [kg/m3].

    Returns
    -------
    numpy.ndarray, shape (...)
        Mean coefficient of heat transfer [W/m2K].

    Notes
    -----
    h = 2 (k ρ c / (π t))^(1/2): heat soaks into still liquid until the next scrape mixes it in.
    Holds while it soaks less deep than the layer, and whatever the viscosity, as long as each
    scrape really takes the old layer away; a spoon that misses the corner does less.

    References
    ----------
    harriott_1959
        Penetration theory for scraped surfaces, recalled.

    Examples
    --------
    >>> scraped_coefficient([2.0, 10.0, 60.0], conductivity=0.55, heat_capacity=3900.0,
    ...     density=1030.0).round(0)
    array([1186.,  530.,  217.])
    """
    parts = (conductivity, heat_capacity, density)
    effusivity = np.prod(np.stack(np.broadcast_arrays(*(np.asarray(p, float) for p in parts))), 0)
    return np.asarray(2.0 * np.sqrt(effusivity / (np.pi * np.asarray(interval, dtype=np.float64))))
