"""A first estimate of the pH of a mixture, before the full acid-base engine."""

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


class MixedAcidity(NamedTuple):
    """Estimate of the pH of a mixture with the spread its ingredients allow."""

    ph: Array
    half_width: Array
    known_share: Array


def ph_buffer_mixing(
    masses: ArrayLike,
    ph: ArrayLike,
    *,
    ph_half_width: ArrayLike,
    buffer_capacity: ArrayLike,
    capacity_log_half_width: ArrayLike,
) -> MixedAcidity:
    """Return the pH at which the ingredients' buffers balance.

    Every ingredient pulls toward its own pH in proportion to its mass and its mean buffer
    capacity; the mixture settles where the pulls cancel.

    Parameters
    ----------
    masses : array_like, shape (n, k)
        Mass of each ingredient in each formula [kg].
    ph : array_like, shape (k,)
        Native pH of each ingredient; NaN where none is known [-].
    ph_half_width : array_like, shape (k,)
        Half of the range of that pH; NaN where unknown [-].
    buffer_capacity : array_like, shape (k,)
        Mean buffer capacity between the native pH and the kitchen range [mol/kg].
    capacity_log_half_width : array_like, shape (k,)
        Half of the range of the natural logarithm of the capacity [-].

    Returns
    -------
    MixedAcidity, shape (n,)
        pH, half width of its range, and the share of the buffering mass with a known pH; pH
        is 7 with a half width of 7 where nothing is known [-].

    Notes
    -----
    pH = sum(m b pH_i) / sum(m b). The half width joins the ingredient ranges in quadrature,
    by first-order propagation, with 0.2 for the straight-line titration curve. Meant for
    pH 2.5 to 8 and a first look: it ignores ionic strength, temperature and the shape of real
    titration curves.

    References
    ----------
    van_slyke_1922
        Definition of the buffer value that the capacities are means of.

    Examples
    --------
    Equal pulls meet halfway (invented numbers):

    >>> mixed = ph_buffer_mixing(
    ...     [[1.0, 1.0]], [4.0, 6.0], ph_half_width=[0.1, 0.1],
    ...     buffer_capacity=[0.03, 0.03], capacity_log_half_width=[0.2, 0.2],
    ... )
    >>> mixed.ph
    array([5.])
    """
    mass = np.asarray(masses, dtype=np.float64)
    native = np.asarray(ph, dtype=np.float64)
    known = ~np.isnan(native)
    pull = mass * np.asarray(buffer_capacity, dtype=np.float64) * known
    total = pull.sum(axis=1)
    has_pull = total > 0
    weight = np.divide(pull, total[:, None], out=np.zeros_like(pull), where=has_pull[:, None])
    center = np.where(known, native, 0.0)
    mixed = weight @ center
    from_ph = (weight**2) @ np.where(known, np.asarray(ph_half_width, dtype=np.float64), 0.0) ** 2
    lever = weight * (center[None, :] - mixed[:, None])
    from_capacity = (lever**2) @ np.asarray(capacity_log_half_width, dtype=np.float64) ** 2
    # 0.2: how far a straight titration line strays from real ones over two pH units (estimated).
    half_width = np.sqrt(from_ph + from_capacity + 0.2**2)
    all_mass = mass.sum(axis=1)
    known_mass = (mass * known).sum(axis=1)
    share = np.divide(known_mass, all_mass, out=np.zeros_like(all_mass), where=all_mass > 0)
    return MixedAcidity(np.where(has_pull, mixed, 7.0), np.where(has_pull, half_width, 7.0), share)
