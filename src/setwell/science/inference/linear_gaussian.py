"""Normal estimates updated by measurements that are linear in them."""

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from setwell.errors import OutOfRangeError

Array = NDArray[np.float64]

# Rounding may leave less than nothing of a measurement that all but settles its own unknowns.
_SHARE_LEFT = 1e-12


class Posterior(NamedTuple):
    """What is known after m measurements of p unknowns.

    `predictive_z` (m,) is how far each measurement lay from what the prior expected, and
    `leave_one_out_z` (m,) from what the prior and all other measurements expect, both in
    standard deviations. `chi_squared` is the squared distance of all from the prior, m degrees.
    """

    mean: Array
    covariance: Array
    predictive_z: Array
    leave_one_out_z: Array
    residuals: Array
    chi_squared: float


def normal_update(
    mean: ArrayLike,
    covariance: ArrayLike,
    *,
    design: ArrayLike,
    observed: ArrayLike,
    variance: ArrayLike,
) -> Posterior:
    """Return what is known of some unknowns after measurements that are linear in them.

    Parameters
    ----------
    mean : array_like, shape (p,)
        Expected values of the unknowns before any measurement [-].
    covariance : array_like, shape (p, p)
        Their covariance, symmetric and not negative [-].
    design : array_like, shape (m, p)
        How much of each unknown is in each measurement [-].
    observed : array_like, shape (m,)
        What was measured [-].
    variance : array_like, shape (m,)
        Variance of each measurement, above zero [-].

    Returns
    -------
    Posterior
        Mean, covariance, and how well each measurement fits; in the units of the unknowns [-].

    Raises
    ------
    OutOfRangeError
        When a variance is zero or less: no measurement is without doubt.

    Notes
    -----
    With B = A' R^-1 A: covariance = (I + C B)^-1 C, mean = m + covariance A' R^-1 (y - A m).
    With h_i the share of measurement i in its own fit, left out it is missed by
    e_i / sqrt(r_i (1 - h_i)) standard deviations, e = y - A mean. Only a matrix of the size of
    the unknowns is inverted. Exact for normal doubts that are independent between measurements;
    any unit, the same for all.

    References
    ----------
    gelman_2013
        Regression with a normal prior as measurements of the unknowns themselves.
    rasmussen_2006
        Leave-one-out without fitting again, from the inverse of the joint covariance.

    Examples
    --------
    Known to 0 ± 1, measured as 2 ± 1: halfway, and surer than before.

    >>> after = normal_update([0.0], [[1.0]], design=[[1.0]], observed=[2.0], variance=[1.0])
    >>> float(after.mean[0].round(6)), float(after.covariance[0, 0].round(6))
    (1.0, 0.5)
    """
    prior = np.asarray(mean, dtype=np.float64)
    spread = np.asarray(covariance, dtype=np.float64)
    values = np.asarray(observed, dtype=np.float64)
    rows = np.asarray(design, dtype=np.float64).reshape(len(values), len(prior))
    noise = np.asarray(variance, dtype=np.float64)
    if len(values) == 0:
        none = np.zeros(0)
        return Posterior(prior, spread, none, none, none, 0.0)
    if not np.all(noise > 0):
        raise OutOfRangeError("Every measurement needs a variance above zero.")
    missed = values - rows @ prior
    weighted = rows / noise[:, None]
    gained = np.linalg.solve(np.eye(len(prior)) + spread @ (rows.T @ weighted), spread)
    known = (gained + gained.T) / 2.0
    after = prior + known @ (weighted.T @ missed)
    residuals = values - rows @ after
    share = np.einsum("ij,jk,ik->i", rows, known, rows) / noise
    return Posterior(
        mean=after,
        covariance=known,
        predictive_z=missed / np.sqrt(np.einsum("ij,jk,ik->i", rows, spread, rows) + noise),
        leave_one_out_z=residuals / np.sqrt(noise * np.maximum(1.0 - share, _SHARE_LEFT)),
        residuals=residuals,
        chi_squared=float(missed @ (residuals / noise)),
    )
