"""How much of a texture agent dissolves at the temperature the pot reached."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def hydrated_fraction_ramp(
    peak_temperature: ArrayLike,
    *,
    onset_temperature: ArrayLike,
    full_temperature: ArrayLike,
) -> Array:
    """Return the dissolved share of an agent, rising with the peak temperature.

    A straight line from nothing at the onset to all of it at the full temperature.

    Parameters
    ----------
    peak_temperature : array_like, shape (...)
        Highest temperature the whole batch reached and held; NaN when unknown [K].
    onset_temperature : array_like, shape (...)
        Temperature below which the salt form sold only swells [K].
    full_temperature : array_like, shape (...)
        Temperature from which all of it dissolves, above the onset [K].

    Returns
    -------
    numpy.ndarray, shape (...)
        Share dissolved, between 0 and 1; NaN where the temperature is NaN [kg/kg].

    Notes
    -----
    f = clip((T - T_on) / (T_full - T_on), 0, 1). A bookkeeping rule for short holds of a
    minute or more, not a rate law; colder spots of the pot and shorter holds dissolve less.

    References
    ----------
    stanley_1987
        Dissolution of carrageenan salts between 60 and 80 °C.

    Examples
    --------
    >>> hydrated_fraction_ramp([333.15, 345.65, 360.0], onset_temperature=333.15,
    ...     full_temperature=358.15)
    array([0. , 0.5, 1. ])
    """
    onset = np.asarray(onset_temperature, dtype=np.float64)
    span = np.asarray(full_temperature, dtype=np.float64) - onset
    rise = (np.asarray(peak_temperature, dtype=np.float64) - onset) / span
    return np.asarray(np.clip(rise, 0.0, 1.0))
