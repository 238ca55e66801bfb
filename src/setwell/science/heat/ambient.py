"""Temperature of the surroundings over time: a broken line that may jump."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from setwell.errors import InputError

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Ambient:
    """A broken line of temperature; before its first and after its last point it stays level.

    `seconds` (k,) never fall; two equal times are a jump. `kelvin` (k,) [K or °C: only
    differences count].
    """

    seconds: Array
    kelvin: Array

    @property
    def first(self) -> float:
        """The temperature at the time zero."""
        return float(self.at(0.0))

    @property
    def is_constant(self) -> bool:
        """Whether nothing ever changes."""
        return bool(np.all(self.kelvin[self.seconds > 0.0] == self.first))

    def at(self, seconds: ArrayLike) -> Array:
        """Return the temperature at these times; at a jump, the one after it."""
        time = np.asarray(seconds, dtype=np.float64)
        if len(self.seconds) == 1:
            return np.full(time.shape, self.kelvin[0])
        part = np.clip(self.seconds.searchsorted(time, side="right") - 1, 0, None)
        after = np.minimum(part + 1, len(self.seconds) - 1)
        width = self.seconds[after] - self.seconds[part]
        share = np.divide(
            time - self.seconds[part], width, out=np.zeros_like(time), where=width > 0
        )
        share = np.clip(share, 0.0, 1.0)
        return np.asarray(self.kelvin[part] + share * (self.kelvin[after] - self.kelvin[part]))

    def lag(self, rates: Array, seconds: Array) -> Array:
        """Return what each rate of decay still remembers of the changes, shape (p, n) [K].

        D(t) = ∫ e^(-r (t - s)) u'(s) ds from zero to t: exact between two points of the line.
        """
        starts, slopes, held = [0.0], [0.0], [np.zeros_like(rates)]
        pieces = zip(self.seconds[:-1], self.seconds[1:], np.diff(self.kelvin), strict=True)
        for a, b, rise in pieces:
            if b <= 0.0:
                continue
            begin = max(float(a), 0.0)
            if begin > starts[-1]:
                held.append(_onward(held[-1], slopes[-1], rates, begin - starts[-1]))
                starts.append(begin)
                slopes.append(0.0)
            if a == b:
                held[-1] = held[-1] + rise
                continue
            slopes[-1] = float(rise / (b - a))
            held.append(_onward(held[-1], slopes[-1], rates, b - begin))
            starts.append(float(b))
            slopes.append(0.0)
        part = np.asarray(starts).searchsorted(seconds, side="right") - 1
        since = (seconds - np.asarray(starts)[part])[:, None]
        return _onward(np.stack(held)[part], np.asarray(slopes)[part][:, None], rates, since)


def _onward(held: Array, slope: Array | float, rates: Array, elapsed: Array | float) -> Array:
    """Return the memory after some more time on one straight piece."""
    lasts = np.asarray(elapsed, dtype=np.float64)
    passed = np.asarray(rates * lasts, dtype=np.float64)
    whole = np.where(passed > 1e-9, passed, 1.0)
    gained = np.where(passed > 1e-9, -np.expm1(-whole) / whole, 1.0)
    return np.asarray(held * np.exp(-passed) + slope * lasts * gained)


def ambient_make(surroundings: "float | tuple[ArrayLike, ArrayLike] | Ambient") -> Ambient:
    """Return surroundings as a broken line.

    Parameters
    ----------
    surroundings : float, tuple of array_like or Ambient
        One temperature, or times and temperatures of a broken line [s, K].

    Returns
    -------
    Ambient
        The broken line [s, K].

    Raises
    ------
    InputError
        If times fall, numbers are missing or the two do not fit each other.

    Notes
    -----
    u(t) = u_j + (u_(j+1) - u_j) (t - t_j) / (t_(j+1) - t_j) between two points, level before the
    first and after the last. Valid for any line whose times do not fall.

    References
    ----------
    common_practice
        A log of temperatures is read as a broken line.

    Examples
    --------
    >>> ambient_make(([0.0, 600.0], [20.0, 4.0])).at([0.0, 300.0, 900.0])
    array([20., 12.,  4.])
    """
    if isinstance(surroundings, Ambient):
        return surroundings
    if isinstance(surroundings, tuple):
        seconds, kelvin = (np.asarray(x, dtype=np.float64) for x in surroundings)
    else:
        seconds, kelvin = np.zeros(1), np.array([float(surroundings)])
    if seconds.ndim != 1 or seconds.shape != kelvin.shape or len(seconds) < 1:
        raise InputError(
            f"Surroundings need as many times as temperatures, one or more; got shapes "
            f"{seconds.shape} and {kelvin.shape}."
        )
    if not (np.isfinite(seconds).all() and np.isfinite(kelvin).all()):
        raise InputError("A time or temperature of the surroundings is not a number.")
    if np.any(np.diff(seconds) < 0):
        raise InputError("The times of the surroundings must never fall.")
    return Ambient(seconds, kelvin)
