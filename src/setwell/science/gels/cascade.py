"""Gel modulus near the smallest dose that gels: the cascade of branching chains.

`modulus_near_threshold(dose, critical)` serves every family of agents: multiply a power law with
it. It is zero up to the critical dose, rises steeply above and is one far above.
"""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def cascade_conversion(relative_dose: ArrayLike, *, functionality: float) -> Array:
    """Return the share of junction sites that are bound, by the cascade theory of gels.

    Parameters
    ----------
    relative_dose : array_like, shape (...)
        Dose over the critical dose, above zero [-].
    functionality : float
        Junction sites of a chain, above 2 [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Bound share of the sites; 1 / (f - 1) at the critical dose [-].

    Notes
    -----
    alpha / (1 - alpha)^2 = (c / c0) (f - 1) / (f - 2)^2, the reversible binding of like sites.
    Valid at any dose; the theory knows no entanglement.

    References
    ----------
    clark_ross_murphy_1985
        Form of the law.

    Examples
    --------
    >>> cascade_conversion(3.0, functionality=3).round(4)
    np.float64(0.6667)
    """
    drive = np.asarray(relative_dose, dtype=np.float64)
    drive = drive * ((functionality - 1.0) / (functionality - 2.0) ** 2)
    # The root below one, written so that it keeps its digits at small and large doses.
    return np.asarray(2.0 * drive / (2.0 * drive + 1.0 + np.sqrt(4.0 * drive + 1.0)))


def cascade_modulus_three_sites(relative_dose: ArrayLike) -> Array:
    """Return the reduced gel modulus of chains with three junction sites.

    Parameters
    ----------
    relative_dose : array_like, shape (...)
        Dose over the critical dose, above zero [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        G M / (a R T c0), zero up to the critical dose [-].

    Notes
    -----
    G = (c / M) (f alpha / 2) (1 - v)^2 (1 - beta) a R T. For f = 3 the extinct share is
    v = ((1 - alpha) / alpha)^2 and beta = 2 (1 - alpha), which leaves
    g = 1.5 (c / c0) (2 - 1 / alpha)^3. Its slope on log axes falls through 2 near five times the
    critical dose and on to 1, when every site is bound: for few sites there is no square law.

    References
    ----------
    clark_ross_murphy_1985
        Form of the law.

    Examples
    --------
    >>> float(cascade_modulus_three_sites(3.0).round(6))
    0.5625
    """
    relative = np.asarray(relative_dose, dtype=np.float64)
    bound = cascade_conversion(np.clip(relative, 1.0, None), functionality=3.0)
    return np.asarray(1.5 * relative * np.clip(2.0 - 1.0 / bound, 0.0, None) ** 3)


def modulus_near_threshold(dose: ArrayLike, critical: ArrayLike) -> Array:
    """Return how much of a power law is left close to the critical dose.

    Every family multiplies its own power law with this: G = G_ref (c / c_ref)^n times the share.
    Where the anchor G_ref itself was read at few times the critical dose, divide by the share
    there, so that the anchor stays what it was.

    Parameters
    ----------
    dose : array_like, shape (...)
        Dissolved, active gelling agent, zero or more, in any unit [%].
    critical : array_like, shape (...)
        Smallest dose that gels, above zero, in the same unit [%].

    Returns
    -------
    numpy.ndarray, shape (...)
        Share of the power law: 0 up to the critical dose, 0.38 at twice, 0.73 at three times,
        0.95 at five times, towards 1; never falls as the dose rises [-].

    Notes
    -----
    s = (1 - v)^2 (1 - x v) with x = c / c0 and v = exp(-x (1 - v)): the cascade modulus of chains
    with many junction sites over its own asymptote c^2. Many sites, because the modulus of
    chains with three ends on c^1 and so has no square to compare with. Valid for agents whose
    modulus goes with about the square of the dose far above the critical one.

    References
    ----------
    clark_ross_murphy_1985
        The cascade; the limit of many sites is our own algebra.

    Examples
    --------
    >>> modulus_near_threshold([0.1, 0.2, 0.4, 1.0], 0.2).round(3).tolist()
    [0.0, 0.0, 0.377, 0.952]
    """
    relative = np.asarray(dose, dtype=np.float64) / np.asarray(critical, dtype=np.float64)
    root = np.interp(relative, _RELATIVE, _ROOT)
    # A product and not a power: one dose alone gives the last digit it has in a batch.
    return np.asarray(root * root * root)


def _many_sites() -> tuple[Array, Array]:
    """Return x and the cube root of the share, in closed form along the extinct share v."""
    # Close to the threshold v runs to one, far above it is next to nothing.
    near, middle = 1.0 - np.geomspace(1e-4, 0.5, 400), np.geomspace(0.499, 0.01, 400)
    extinct = np.concatenate([near, middle, np.geomspace(0.0099, 1e-17, 200)])
    relative = -np.log(extinct) / (1.0 - extinct)
    share = (1.0 - extinct) ** 2 * (1.0 - relative * extinct)
    # The cube root starts as a straight line, so that the table keeps its digits there.
    root = np.cbrt(np.clip(share, 0.0, 1.0))
    return np.concatenate([[1.0], relative]), np.concatenate([[0.0], root])


_RELATIVE, _ROOT = _many_sites()
