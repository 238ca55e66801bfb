"""Rounding of label amounts: the band is picked on the unrounded amount, halves go up."""

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from setwell.errors import InputError

Array = NDArray[np.float64]
# What binary fractions may blur at an edge or a half.
_BLUR = 1e-9


class Rounded(NamedTuple):
    """The band of each amount and what it is rounded to there; NaN where a text stands."""

    bands: NDArray[np.intp]
    values: Array


def amounts_round(
    amounts: ArrayLike, *, lows: ArrayLike, includes_low: ArrayLike, steps: ArrayLike
) -> Rounded:
    """Return the band of each amount and its value rounded as that band wants.

    Parameters
    ----------
    amounts : array_like, shape (n,)
        Unrounded amounts, none below zero [unit of the label].
    lows : array_like, shape (b,)
        Where the bands begin, rising, the first at zero [unit of the label].
    includes_low : array_like, shape (b,)
        True where a band holds its own beginning [-].
    steps : array_like, shape (b,)
        Step of each band; zero makes every amount zero, NaN leaves it to a text
        [unit of the label].

    Returns
    -------
    Rounded
        Band (n,), counted from 0 [-], and value (n,) [unit of the label].

    Raises
    ------
    InputError
        If an amount is negative or not a number, or the bands do not rise.

    Notes
    -----
    value = step floor(amount / step + 1/2), so halves go up. An amount within a billionth of an
    edge or a half counts as on it. Valid for amounts from zero on.

    References
    ----------
    cfr_21_101_9
        Paragraph (c): increments by nutrient and amount.
    fda_labeling_guide
        Appendix H: the unrounded amount picks the band, halves go up.

    Examples
    --------
    Calories: below 5 zero, to 50 in fives, above in tens.

    >>> found = amounts_round(
    ...     [4.9, 50.0, 55.0], lows=[0, 5, 50], includes_low=[True, True, False], steps=[0, 5, 10]
    ... )
    >>> found.values.tolist()
    [0.0, 50.0, 60.0]
    """
    given = np.atleast_1d(np.asarray(amounts, dtype=np.float64))
    begins = np.asarray(lows, dtype=np.float64)
    if not np.all(given >= 0.0):
        raise InputError("An amount on a label is negative or not a number.")
    if begins[0] != 0.0 or np.any(np.diff(begins) <= 0.0):
        raise InputError("The bands of a rounding have to begin at zero and rise.")
    blur = _BLUR * np.maximum(begins, 1.0)
    edges = np.where(np.asarray(includes_low, dtype=bool), begins - blur, begins + blur)
    bands = np.maximum((given[:, None] > edges).sum(axis=1) - 1, 0)
    step = np.asarray(steps, dtype=np.float64)[bands]
    safe = np.where(step > 0.0, step, 1.0)
    nearest = np.floor(given / safe + 0.5 + _BLUR) * safe
    values = np.where(step > 0.0, nearest, np.where(np.isnan(step), np.nan, 0.0))
    return Rounded(bands, values)


def day_share(amounts: ArrayLike, *, daily_amount: float) -> Array:
    """Return amounts as percentages of what a day is taken to hold.

    Parameters
    ----------
    amounts : array_like, shape (n,)
        Unrounded amounts [unit of the label].
    daily_amount : float
        Daily value or reference intake, above zero [unit of the label].

    Returns
    -------
    ndarray, shape (n,)
        Unrounded percentages [%].

    Raises
    ------
    InputError
        If the daily amount is not above zero.

    Notes
    -----
    share = 100 amount / daily amount. Meant for adults, and children from four years on.

    References
    ----------
    cfr_21_101_9
        Paragraph (d)(7)(ii): from the declared or from the unrounded amount.

    Examples
    --------
    >>> round(float(day_share([8.2], daily_amount=78.0)[0]), 1)
    10.5
    """
    if not daily_amount > 0.0:
        raise InputError("A daily amount has to be above zero.")
    return np.atleast_1d(np.asarray(amounts, dtype=np.float64)) * 100.0 / daily_amount
