"""What one temperature history is worth in time at a reference temperature, below any threshold."""

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from setwell.errors import InputError, OutOfRangeError

Array = NDArray[np.float64]


class HeatLoad(NamedTuple):
    """The time at the reference temperature that a history spends below each temperature.

    A curve in k parts, each of shape (k,): where it begins [K], what is reached there [s], and
    how steeply it rises [s/K].
    """

    temperatures: Array
    reached: Array
    growth: Array
    # Natural logarithm of the rate per kelvin.
    slope: float

    @property
    def total(self) -> float:
        """The load of the whole history [s]."""
        return float(self.reached[-1])

    def below(self, thresholds: ArrayLike) -> Array:
        """Return the load below each temperature [s]; a hold at that temperature is not."""
        limits = np.asarray(thresholds, dtype=np.float64)
        part = self.temperatures[1:].searchsorted(limits)
        above = limits - self.temperatures[part]
        return np.asarray(self.reached[part] + self.growth[part] * _reach(above, self.slope))


def heat_load(
    times: ArrayLike, temperatures: ArrayLike, *, q10: float, reference_temperature: float
) -> HeatLoad:
    """Return the load of one history, ready to be asked for any number of thresholds.

    Between two points the temperature runs straight.

    Parameters
    ----------
    times : array_like, shape (p,)
        Times of the points, never falling [s].
    temperatures : array_like, shape (p,)
        Temperatures at the points [K].
    q10 : float
        How many times faster it goes 10 K warmer, above zero [-].
    reference_temperature : float
        Temperature at which a second counts as a second [K].

    Returns
    -------
    HeatLoad, shape (k,)
        Its load by the temperature that it is spent below [s].

    Raises
    ------
    InputError
        If the shapes do not fit or times fall.
    OutOfRangeError
        If q10 is not above zero.

    Notes
    -----
    C(T) = ∫ q^((T' - T_ref) / 10 K) dt over T' < T. On a straight stretch the rate is the
    exponential of a straight line, so C is closed between any two temperatures at which a stretch
    begins or ends; no step size comes in. A hold adds all of its load at once, just above its
    temperature. Rates that go with a q10 hold over a few tens of kelvin.

    References
    ----------
    common_practice
        A rate that changes by a fixed factor per 10 K; the integral is our own.

    Examples
    --------
    Ten minutes from 60 to 80 °C and nothing faster when warmer: three quarters lie below 75 °C.

    >>> load = heat_load([0, 600], [333.15, 353.15], q10=1.0, reference_temperature=353.15)
    >>> load.below([333.15, 348.15, 400.0]), load.total
    (array([  0., 450., 600.]), 600.0)
    """
    time, kelvin = (np.asarray(x, dtype=np.float64) for x in (times, temperatures))
    if time.ndim != 1 or time.shape != kelvin.shape or len(time) < 2:
        raise InputError(
            f"A history needs as many times as temperatures, two or more; got shapes "
            f"{time.shape} and {kelvin.shape}."
        )
    if np.any(np.diff(time) < 0):
        raise InputError("The times of a history must never fall.")
    if not q10 > 0:
        raise OutOfRangeError(f"The factor per 10 K is {q10:g}; it must be above zero.")
    slope = float(np.log(q10)) / 10.0
    marks = np.unique(kelvin)
    rates = np.exp(slope * (marks - reference_temperature))
    # Seconds per kelvin between a mark and the next, from all stretches that pass there.
    pace, held = np.zeros_like(marks), np.zeros_like(marks)
    places = np.searchsorted(marks, kelvin)
    for lasts, a, b in zip(np.diff(time), places[:-1], places[1:], strict=True):
        if a == b:
            held[a] += lasts
        else:
            low, high = min(a, b), max(a, b)
            pace[low:high] += lasts / (marks[high] - marks[low])
    growth = pace * rates
    climbed = growth[:-1] * _reach(np.diff(marks), slope)
    after = np.cumsum(held * rates + np.concatenate([[0.0], climbed]))
    # Below the coldest mark there is nothing.
    return HeatLoad(
        np.concatenate([marks[:1], marks]),
        np.concatenate([[0.0], after]),
        np.concatenate([[0.0], growth]),
        slope,
    )


def _reach(kelvins: Array, slope: float) -> Array:
    """Return the integral of e^(slope T) over so many kelvins from zero."""
    return kelvins if slope == 0.0 else np.asarray(np.expm1(slope * kelvins) / slope)
