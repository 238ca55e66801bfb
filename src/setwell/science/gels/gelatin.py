"""Gelatin: where it melts, and how its firmness grows in the cold."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

# Dose of the Bloom test [kg/kg].
_BLOOM_DOSE = 0.0667
# Thinner than this nobody calls it a gel [kg/kg].
_THINNEST = 0.001


def melting_temperature_gelatin(
    dose: ArrayLike,
    *,
    bloom: ArrayLike,
    anchor_temperature: ArrayLike,
    reference_bloom: float,
    bloom_slope: float,
    rise_per_decade: ArrayLike,
) -> Array:
    """Return the temperature where a gelatin gel melts.

    Parameters
    ----------
    dose : array_like, shape (...)
        Gelatin per mass of batch [kg/kg].
    bloom : array_like, shape (...)
        Bloom of the gelatin [g].
    anchor_temperature : array_like, shape (...)
        Melting temperature of the Bloom gel of the reference grade [K].
    reference_bloom : float
        Bloom of that grade [g].
    bloom_slope : float
        Rise for one more gram of Bloom [K/g].
    rise_per_decade : array_like, shape (...)
        Rise for ten times the dose [K].

    Returns
    -------
    numpy.ndarray, shape (...)
        Melting temperature [K].

    Notes
    -----
    T = T_0 + s (B - B_0) + r log10(c / 0.0667). That it rises with Bloom and with dose is
    published; both slopes are recalled. For 1 to 15 % and 50 to 300 Bloom.

    References
    ----------
    gelatin_bloom_phase
        Gelling and melting temperatures rise with Bloom and with concentration.

    Examples
    --------
    >>> t = melting_temperature_gelatin(0.0667, bloom=225.0, anchor_temperature=300.15,
    ...     reference_bloom=100.0, bloom_slope=0.025, rise_per_decade=6.0)
    >>> round(float(t) - 273.15, 2)
    30.12
    """
    amount = np.maximum(np.asarray(dose, dtype=np.float64), _THINNEST)
    grade = bloom_slope * (np.asarray(bloom, dtype=np.float64) - reference_bloom)
    return np.asarray(
        np.asarray(anchor_temperature)
        + grade
        + np.asarray(rise_per_decade) * np.log10(amount / _BLOOM_DOSE)
    )


def full_strength_time(
    temperature: ArrayLike, *, cold: tuple[float, float], cool: tuple[float, float]
) -> Array:
    """Return how long a gelatin gel takes to its full strength at one temperature.

    Parameters
    ----------
    temperature : array_like, shape (...)
        Temperature of the gel [K].
    cold : tuple of float
        A temperature and the time to full strength there [K, s].
    cool : tuple of float
        The same, warmer [K, s].

    Returns
    -------
    numpy.ndarray, shape (...)
        Time to full strength [s].

    Notes
    -----
    ln t = ln t_1 + (T - T_1) / (T_2 - T_1) ln(t_2 / t_1), a line through two published points at
    5 and 10 °C. Valid from 2 to 15 °C; outside, its ends are used.

    References
    ----------
    sammi_gelatin
        Times at 5 and at 10 °C.

    Examples
    --------
    >>> hours = full_strength_time([278.15, 283.15], cold=(278.15, 6.5), cool=(283.15, 17.5))
    >>> hours.round(1)
    array([ 6.5, 17.5])
    """
    at = np.clip(np.asarray(temperature, dtype=np.float64), 275.15, 288.15)
    part = (at - cold[0]) / (cool[0] - cold[0])
    return np.asarray(np.exp(np.log(cold[1]) + part * (np.log(cool[1]) - np.log(cold[1]))))


def maturing_share(cold_time: ArrayLike, *, gain_per_decade: ArrayLike) -> Array:
    """Return the share of its full strength that a gelatin gel has reached.

    Parameters
    ----------
    cold_time : array_like, shape (...)
        Time in the cold as a share of the time to full strength, zero or more [-].
    gain_per_decade : array_like, shape (...)
        Share of the full strength won for ten times the time, between 0 and 1 [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Share of the full strength, 0 to 1 [-].

    Notes
    -----
    m = 1 + k log10(t / t_full), held between 0 and 1. Growth with the logarithm of time is the
    common observation; it goes on slowly after t_full, which the law leaves out. For times
    from 0.02 of the full time.

    References
    ----------
    sammi_gelatin
        Rigidity keeps rising in the cold until its maximum.

    Examples
    --------
    >>> maturing_share([0.1, 1.0, 2.0], gain_per_decade=0.45)
    array([0.55, 1.  , 1.  ])
    """
    time = np.maximum(np.asarray(cold_time, dtype=np.float64), 1e-9)
    return np.asarray(np.clip(1.0 + np.asarray(gain_per_decade) * np.log10(time), 0.0, 1.0))
