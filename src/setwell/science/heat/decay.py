"""When a product of sums of fading terms reaches a value."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

_STEPS = 80


def decay_time(share: ArrayLike, *, rates: tuple[Array, ...], parts: tuple[Array, ...]) -> Array:
    """Return when a product of series has fallen to a share.

    Parameters
    ----------
    share : array_like, shape (...)
        What is to be left of the difference at the start [-].
    rates : tuple of numpy.ndarray, each of shape (n,)
        Rates of decay of each factor, rising [1/s, or - with Fourier numbers].
    parts : tuple of numpy.ndarray, each of shape (n,)
        What each term of each factor adds at the start [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        The time; zero for a share of one or more, infinite where it never falls so far [s, or -
        with Fourier numbers].

    Notes
    -----
    s(t) = product over the factors of sum of p e^(-r t), solved for ln s by Newton's steps inside
    a bracket. Meant for places and means at which s falls all the time.

    References
    ----------
    carslaw_jaeger_1959
        Products of solutions for bodies of several directions.

    Examples
    --------
    >>> import numpy as np
    >>> decay_time([1.0, 0.5, 0.0], rates=(np.array([2.0]),), parts=(np.array([1.0]),)).round(6)
    array([0.      , 0.346574,      inf])
    """
    wanted = np.asarray(share, dtype=np.float64)
    target = wanted.ravel()
    found: Array = np.where(target >= 1.0, 0.0, np.inf)
    slowest = sum(float(rate[0]) for rate in rates)
    is_open = (target < 1.0) & (target > 0.0)
    if slowest > 0.0 and is_open.any():
        found[is_open] = _search(np.log(target[is_open]), slowest, rates, parts)
    return np.asarray(found.reshape(wanted.shape))


def _search(
    goal: Array, slowest: float, rates: tuple[Array, ...], parts: tuple[Array, ...]
) -> Array:
    """Return where the logarithm of the product meets each goal."""
    with np.errstate(divide="ignore"):
        first = sum(np.log(np.maximum(part[0], 0.0)) for part in parts)
    # Late enough for any place: there the first terms alone are left.
    late = np.maximum((first - goal) / slowest, 0.0)
    time = np.maximum(late, 1e-3 / slowest)
    low, high = np.zeros_like(time), np.full_like(time, np.inf)
    last = np.full_like(time, np.inf)
    for _ in range(_STEPS):
        value, slope = _logarithm(time, rates, parts)
        is_early = value > goal
        low, high = np.where(is_early, time, low), np.where(is_early, high, time)
        step = np.divide(goal - value, slope, out=np.full_like(time, np.inf), where=slope < 0)
        guess = time + step
        is_settled = np.abs(step) <= 1e-13 * time
        # Steps that do not shrink can jump between two times for ever: halve the bracket instead.
        is_inside = np.isfinite(guess) & (guess >= low) & (guess <= high)
        is_inside &= 2.0 * np.abs(step) <= last
        middle = np.where(np.isinf(high), 2.0 * time, (low + np.minimum(high, 1e300)) / 2.0)
        after = np.where(is_settled, time, np.where(is_inside, guess, middle))
        last, time = np.abs(after - time), after
        if is_settled.all():
            break
    return np.asarray(time)


def _logarithm(
    time: Array, rates: tuple[Array, ...], parts: tuple[Array, ...]
) -> tuple[Array, Array]:
    """Return the logarithm of the product and its slope."""
    value, slope = np.zeros_like(time), np.zeros_like(time)
    for rate, part in zip(rates, parts, strict=True):
        terms = part * np.exp(-np.outer(time, rate))
        total = np.maximum(terms.sum(axis=1), 1e-300)
        value += np.log(total)
        slope -= (terms @ rate) / total
    return value, slope
