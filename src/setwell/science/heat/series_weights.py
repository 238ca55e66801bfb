"""How much each term of a series counts, for food that starts at one temperature."""

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import j0, j1, spherical_jn

Array = NDArray[np.float64]


def slab_weights(eigenvalues: ArrayLike) -> tuple[Array, Array]:
    """Return the coefficient of each term of a slab, and the mean of its cosine.

    Parameters
    ----------
    eigenvalues : array_like, shape (..., n)
        Its eigenvalues [-].

    Returns
    -------
    tuple of numpy.ndarray, each of shape (..., n)
        Coefficients and means [-].

    Notes
    -----
    C = 4 sin z / (2 z + sin 2z), mean of cos(z x) = sin z / z. Valid for any eigenvalue, also zero.

    References
    ----------
    incropera_2007
        The exact solution for a plane wall.

    Examples
    --------
    >>> [round(float(x), 6) for x in slab_weights(0.86033359)]
    [1.119132, 0.881124]
    """
    z = np.asarray(eigenvalues, dtype=np.float64)
    mean = np.sinc(z / np.pi)
    return 2.0 * mean / (1.0 + np.sinc(2.0 * z / np.pi)), mean


def cylinder_weights(eigenvalues: ArrayLike) -> tuple[Array, Array]:
    """Return the coefficient of each term of a cylinder, and the mean of its Bessel function.

    Parameters
    ----------
    eigenvalues : array_like, shape (..., n)
        Its eigenvalues [-].

    Returns
    -------
    tuple of numpy.ndarray, each of shape (..., n)
        Coefficients and means [-].

    Notes
    -----
    C = 2 J1(z) / (z (J0(z)^2 + J1(z)^2)), mean of J0(z x) = 2 J1(z) / z. Valid for any eigenvalue,
    also zero.

    References
    ----------
    incropera_2007
        The exact solution for a long cylinder.

    Examples
    --------
    >>> [round(float(x), 6) for x in cylinder_weights(1.25578371)]
    [1.207092, 0.815411]
    """
    z = np.asarray(eigenvalues, dtype=np.float64)
    one = j1(z)
    mean = np.divide(2.0 * one, z, out=np.ones_like(z), where=z > 1e-9)
    return mean / (j0(z) ** 2 + one**2), mean


def sphere_weights(eigenvalues: ArrayLike) -> tuple[Array, Array]:
    """Return the coefficient of each term of a sphere, and the mean of its function.

    Parameters
    ----------
    eigenvalues : array_like, shape (..., n)
        Its eigenvalues [-].

    Returns
    -------
    tuple of numpy.ndarray, each of shape (..., n)
        Coefficients and means [-].

    Notes
    -----
    C = 4 (sin z - z cos z) / (2 z - sin 2z), mean of sin(z x) / (z x) = 3 (sin z - z cos z) / z^3.
    Valid for any eigenvalue, also zero.

    References
    ----------
    incropera_2007
        The exact solution for a sphere.

    Examples
    --------
    >>> [round(float(x), 6) for x in sphere_weights(1.57079633)]
    [1.27324, 0.774037]
    """
    z = np.asarray(eigenvalues, dtype=np.float64)
    # The closed form loses its digits near zero.
    is_small = z < 1e-3
    safe = np.where(is_small, 1.0, z)
    mean = np.where(is_small, 1.0 - z**2 / 10.0, 3.0 * spherical_jn(1, safe) / safe)
    spread = 1.0 - np.sinc(2.0 * safe / np.pi)
    large = 2.0 * safe * spherical_jn(1, safe) / spread
    return np.where(is_small, 1.0 + z**2 / 10.0, large), mean
