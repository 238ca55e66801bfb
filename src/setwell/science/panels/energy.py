"""Energy and salt of a food from what it holds."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from setwell.errors import InputError

Array = NDArray[np.float64]
_SALT_PER_SODIUM = 2.5
_MG_PER_G = 1000.0


def factor_energy(contents: ArrayLike, *, factors: ArrayLike) -> Array:
    """Return the energy of foods as the sum of what each component brings.

    Parameters
    ----------
    contents : array_like, shape (n, c)
        Grams of each component [g].
    factors : array_like, shape (c,)
        Energy of one gram of each; a negative one takes out what a wider component holds
        [kJ/g or kcal/g].

    Returns
    -------
    ndarray, shape (n,)
        Energy [kJ or kcal].

    Raises
    ------
    InputError
        If there are not as many factors as components.

    Notes
    -----
    E = Σ f_i m_i. Kilojoules and calories come each from their own rounded factors, so that one
    is not exactly 4.184 times the other. Meant for labels, not for physiology.

    References
    ----------
    cfr_21_101_9
        Paragraph (c)(1)(i): 4, 4 and 9.
    eu_1169_2011
        Annex XIV: 17, 17 and 37 kJ, fiber 8, alcohol 29.

    Examples
    --------
    Fat, available carbohydrate, fiber and protein in kJ:

    >>> round(float(factor_energy([[8.2, 17.5, 0.6, 3.9]], factors=[37, 17, 8, 17])[0]), 1)
    672.0
    """
    grams = np.atleast_2d(np.asarray(contents, dtype=np.float64))
    each = np.asarray(factors, dtype=np.float64)
    if grams.shape[1] != len(each):
        raise InputError(f"{grams.shape[1]} components need as many factors, not {len(each)}.")
    return np.asarray(grams @ each)


def sodium_salt(sodium_mg: ArrayLike) -> Array:
    """Return the salt that a label declares for an amount of sodium.

    Parameters
    ----------
    sodium_mg : array_like, shape (n,)
        Sodium from all sources, gums and citrates among them [mg].

    Returns
    -------
    ndarray, shape (n,)
        Salt [g].

    Notes
    -----
    salt = 2.5 sodium_mg / 1000, by definition of the label; sodium chloride proper would be 2.54.
    Holds for all sodium, not only that of table salt.

    References
    ----------
    eu_1169_2011
        Annex I: salt equivalent.

    Examples
    --------
    >>> round(float(sodium_salt([300.0])[0]), 2)
    0.75
    """
    return np.atleast_1d(np.asarray(sodium_mg, dtype=np.float64)) * _SALT_PER_SODIUM / _MG_PER_G
