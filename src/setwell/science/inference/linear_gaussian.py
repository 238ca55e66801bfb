"""Normal estimates updated by measurements that are linear in them."""

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from setwell.errors import OutOfRangeError

Array = NDArray[np.float64]


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
    With S = A C A' + R and K = C A' S^-1: mean = m + K (y - A m), covariance = (I - K A) C
    (I - K A)' + K R K', which stays symmetric and not negative. Left out, measurement i is
    missed by [S^-1 d]_i / sqrt([S^-1]_ii) standard deviations, d = y - A m. Exact for normal
    doubts that are independent between measurements; any unit, the same for all.

    References
    ----------
    gelman_2013
        Regression with a normal prior as measurements of the unknowns themselves.
    rasmussen_2006
        Leave-one-out from the inverse of the joint covariance.

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
    joint = rows @ spread @ rows.T + np.diag(noise)
    inverse = np.linalg.inv(joint)
    inverse = (inverse + inverse.T) / 2.0
    gain = spread @ rows.T @ inverse
    kept = np.eye(len(prior)) - gain @ rows
    after = prior + gain @ missed
    weighted = inverse @ missed
    return Posterior(
        mean=after,
        covariance=kept @ spread @ kept.T + (gain * noise) @ gain.T,
        predictive_z=missed / np.sqrt(np.diag(joint)),
        leave_one_out_z=weighted / np.sqrt(np.diag(inverse)),
        residuals=values - rows @ after,
        chi_squared=float(missed @ weighted),
    )
