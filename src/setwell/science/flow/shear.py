"""How a liquid thins when it is stirred faster."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def viscosity_cross(
    shear_rate: ArrayLike,
    *,
    zero_shear_viscosity: ArrayLike,
    high_shear_viscosity: ArrayLike,
    half_rate: ArrayLike,
    exponent: float,
) -> Array:
    """Return the viscosity of a shear-thinning liquid between two plateaus.

    Parameters
    ----------
    shear_rate : array_like, shape (...)
        Shear rate, zero or more [1/s].
    zero_shear_viscosity : array_like, shape (...)
        Viscosity at rest [Pa·s].
    high_shear_viscosity : array_like, shape (...)
        Viscosity at the fastest shear, at most that at rest [Pa·s].
    half_rate : array_like, shape (...)
        Shear rate where half of the difference is gone, above zero [1/s].
    exponent : float
        Steepness; 0.76 for random coils [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Apparent viscosity [Pa·s].

    Notes
    -----
    eta = eta_inf + (eta_0 - eta_inf) / (1 + (g / g_half)^m). With m = 0.76 it is the common curve
    of entangled random coils. Holds without a yield stress.

    References
    ----------
    cross_1965
        Form of the law.
    morris_1981
        Power 0.76 for random-coil gums.

    Examples
    --------
    >>> float(viscosity_cross(5.0, zero_shear_viscosity=2.0, high_shear_viscosity=0.0,
    ...     half_rate=5.0, exponent=0.76))
    1.0
    """
    rate = np.asarray(shear_rate, dtype=np.float64) / np.asarray(half_rate, dtype=np.float64)
    least = np.asarray(high_shear_viscosity, dtype=np.float64)
    return np.asarray(least + (np.asarray(zero_shear_viscosity) - least) / (1.0 + rate**exponent))


def half_rate_of_coils(zero_shear_viscosity: ArrayLike, *, half_stress: ArrayLike) -> Array:
    """Return the shear rate at which entangled coils have lost half of their thickness.

    Parameters
    ----------
    zero_shear_viscosity : array_like, shape (...)
        Viscosity at rest, above zero [Pa·s].
    half_stress : array_like, shape (...)
        Product of viscosity at rest and half rate, above zero [Pa].

    Returns
    -------
    numpy.ndarray, shape (...)
        Shear rate [1/s].

    Notes
    -----
    g_half = tau_half / eta_0. The product moves little with dose for one gum; meant for entangled
    solutions, where it stands near 10 Pa (recalled).

    References
    ----------
    morris_1981
        One curve for all doses once the shear rate is scaled by its half rate.

    Examples
    --------
    >>> float(half_rate_of_coils(2.0, half_stress=10.0))
    5.0
    """
    return np.asarray(
        np.asarray(half_stress, dtype=np.float64)
        / np.asarray(zero_shear_viscosity, dtype=np.float64)
    )


def viscosity_carreau_yasuda(
    shear_rate: ArrayLike,
    *,
    zero_shear_viscosity: ArrayLike,
    high_shear_viscosity: ArrayLike,
    time_constant: ArrayLike,
    flow_index: float,
    exponent: float = 2.0,
) -> Array:
    """Return the viscosity of a shear-thinning liquid with a bend of its own sharpness.

    Parameters
    ----------
    shear_rate : array_like, shape (...)
        Shear rate, zero or more [1/s].
    zero_shear_viscosity : array_like, shape (...)
        Viscosity at rest [Pa·s].
    high_shear_viscosity : array_like, shape (...)
        Viscosity at the fastest shear, at most that at rest [Pa·s].
    time_constant : array_like, shape (...)
        Inverse of the shear rate at the bend [s].
    flow_index : float
        Power of the thinning branch, 1 for none [-].
    exponent : float
        Sharpness of the bend; 2 is the law without that choice [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Apparent viscosity [Pa·s].

    Notes
    -----
    eta = eta_inf + (eta_0 - eta_inf) (1 + (lambda g)^a)^((n - 1) / a). Holds without a yield
    stress.

    References
    ----------
    yasuda_1981
        The free sharpness a.
    rivera_2017
        Use for lambda carrageenan.

    Examples
    --------
    >>> float(viscosity_carreau_yasuda(0.0, zero_shear_viscosity=2.0, high_shear_viscosity=0.1,
    ...     time_constant=0.5, flow_index=0.4))
    2.0
    """
    rate = np.asarray(time_constant, dtype=np.float64) * np.asarray(shear_rate, dtype=np.float64)
    least = np.asarray(high_shear_viscosity, dtype=np.float64)
    fall = (1.0 + rate**exponent) ** ((flow_index - 1.0) / exponent)
    return np.asarray(least + (np.asarray(zero_shear_viscosity) - least) * fall)


def viscosity_power_law(
    shear_rate: ArrayLike, *, consistency: ArrayLike, flow_index: ArrayLike
) -> Array:
    """Return the apparent viscosity of a power-law liquid.

    Parameters
    ----------
    shear_rate : array_like, shape (...)
        Shear rate, above zero [1/s].
    consistency : array_like, shape (...)
        K, the viscosity at 1 1/s [Pa·s^n].
    flow_index : array_like, shape (...)
        n, 1 for a liquid that does not thin [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Apparent viscosity [Pa·s].

    Notes
    -----
    eta = K g^(n - 1). Holds over the two or three decades of shear rate it was fitted in, and has
    no viscosity at rest.

    References
    ----------
    steffe_1996
        Use for sauces and gums.
    elfak_1979
        Guar and locust bean gum follow it from 14 to 1142 1/s, in syrup too.

    Examples
    --------
    Ketchup at the shear of slow stirring:

    >>> round(float(viscosity_power_law(50.0, consistency=18.7, flow_index=0.27)), 2)
    1.08
    """
    rate = np.asarray(shear_rate, dtype=np.float64)
    return np.asarray(
        np.asarray(consistency, dtype=np.float64)
        * rate ** (np.asarray(flow_index, dtype=np.float64) - 1.0)
    )
