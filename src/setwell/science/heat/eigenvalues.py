"""Eigenvalues of slab, cylinder and sphere with a coefficient at the surface, found in brackets.

Each is the root of a smooth function between two known ends, so that none is missed, from an
insulated surface to one that is held at its temperature.
"""

from collections.abc import Callable
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import j0, j1, jn_zeros

from setwell.errors import OutOfRangeError

Array = NDArray[np.float64]
Curve = Callable[[Array], tuple[Array, Array]]

_STEPS = 60


def slab_eigenvalues(biot: ArrayLike, *, terms: int = 40) -> Array:
    """Return the eigenvalues of a slab that cools from both faces.

    Parameters
    ----------
    biot : array_like, shape (...)
        Coefficient times half the thickness over the conductivity, up to infinity [-].
    terms : int
        How many, from the smallest on [-].

    Returns
    -------
    numpy.ndarray, shape (..., terms)
        Roots, rising [-].

    Raises
    ------
    OutOfRangeError
        If a Biot number is below zero.

    Notes
    -----
    z tan z = Bi, one root from n pi to n pi + pi / 2. Valid for any Biot number from zero to
    infinity.

    References
    ----------
    carslaw_jaeger_1959
        The slab with radiation at its surface.
    incropera_2007
        Table of the first root.

    Examples
    --------
    >>> slab_eigenvalues([1.0, np.inf], terms=2).round(6)
    array([[0.860334, 3.425618],
           [1.570796, 4.712389]])
    """
    near, far = _parts(biot)
    order = np.asarray(np.arange(terms) * np.pi, dtype=np.float64)

    def curve(z: Array) -> tuple[Array, Array]:
        sine, cosine = np.sin(z), np.cos(z)
        value = near * z * sine - far * cosine
        return value, near * (sine + z * cosine) + far * sine

    return _roots(curve, order, np.asarray(order + np.pi / 2), near.shape[:-1])


def cylinder_eigenvalues(biot: ArrayLike, *, terms: int = 40) -> Array:
    """Return the eigenvalues of a long cylinder.

    Parameters
    ----------
    biot : array_like, shape (...)
        Coefficient times radius over the conductivity, up to infinity [-].
    terms : int
        How many, from the smallest on [-].

    Returns
    -------
    numpy.ndarray, shape (..., terms)
        Roots, rising [-].

    Raises
    ------
    OutOfRangeError
        If a Biot number is below zero.

    Notes
    -----
    z J1(z) = Bi J0(z), one root from each zero of J1 to the next of J0. Valid for any Biot number
    from zero to infinity.

    References
    ----------
    carslaw_jaeger_1959
        The cylinder with radiation at its surface.
    incropera_2007
        Table of the first root.

    Examples
    --------
    >>> cylinder_eigenvalues([1.0, np.inf], terms=2).round(6)
    array([[1.255784, 4.079478],
           [2.404826, 5.520078]])
    """
    near, far = _parts(biot)
    low, high = _bessel_brackets(terms)

    def curve(z: Array) -> tuple[Array, Array]:
        zero, one = j0(z), j1(z)
        return near * z * one - far * zero, near * z * zero + far * one

    return _roots(curve, low, high, near.shape[:-1])


def sphere_eigenvalues(biot: ArrayLike, *, terms: int = 40) -> Array:
    """Return the eigenvalues of a sphere.

    Parameters
    ----------
    biot : array_like, shape (...)
        Coefficient times radius over the conductivity, up to infinity [-].
    terms : int
        How many, from the smallest on [-].

    Returns
    -------
    numpy.ndarray, shape (..., terms)
        Roots, rising [-].

    Raises
    ------
    OutOfRangeError
        If a Biot number is below zero.

    Notes
    -----
    1 - z cot z = Bi, one root from n pi to (n + 1) pi. Valid for any Biot number from zero to
    infinity.

    References
    ----------
    carslaw_jaeger_1959
        The sphere with radiation at its surface.
    incropera_2007
        Table of the first root.

    Examples
    --------
    >>> sphere_eigenvalues([1.0, np.inf], terms=2).round(6)
    array([[1.570796, 4.712389],
           [3.141593, 6.283185]])
    """
    near, far = _parts(biot)
    order = np.asarray(np.arange(terms) * np.pi, dtype=np.float64)

    def curve(z: Array) -> tuple[Array, Array]:
        # Divided by z once, which takes away the root at zero.
        ball, bend = np.sinc(z / np.pi), _bend(z)
        slope = np.divide(bend, z, out=np.zeros_like(z), where=z > 0)
        return near * bend - far * ball, near * (np.sin(z) - slope) + far * slope

    return _roots(curve, order, np.asarray(order + np.pi), near.shape[:-1])


def two_faced_slab_eigenvalues(
    biot_low: ArrayLike, biot_high: ArrayLike, *, terms: int = 40
) -> Array:
    """Return the eigenvalues of a slab whose faces have coefficients of their own.

    Parameters
    ----------
    biot_low : array_like, shape (...)
        Coefficient at the lower face times the whole thickness over the conductivity [-].
    biot_high : array_like, shape (...)
        The same at the upper face [-].
    terms : int
        How many, from the smallest on [-].

    Returns
    -------
    numpy.ndarray, shape (..., terms)
        Roots, rising [-].

    Raises
    ------
    OutOfRangeError
        If a Biot number is below zero.

    Notes
    -----
    tan z = z (Bi_1 + Bi_2) / (z^2 - Bi_1 Bi_2), one root from n pi to (n + 1) pi. Valid for any
    Biot numbers from zero to infinity.

    References
    ----------
    carslaw_jaeger_1959
        The slab with radiation at both surfaces.

    Examples
    --------
    >>> two_faced_slab_eigenvalues([2.0, 0.0], [2.0, 1.0], terms=2).round(6)
    array([[1.720667, 4.057516],
           [0.860334, 3.425618]])
    """
    (near_1, far_1), (near_2, far_2) = _parts(biot_low), _parts(biot_high)
    both, none, one = near_1 * near_2, far_1 * far_2, far_1 * near_2 + near_1 * far_2
    order = np.asarray(np.arange(terms) * np.pi, dtype=np.float64)

    def curve(z: Array) -> tuple[Array, Array]:
        # Divided by z once, which takes away the root at zero.
        sine, cosine = np.sinc(z / np.pi), np.cos(z)
        slope = np.divide(cosine - sine, z, out=np.zeros_like(z), where=z > 0)
        value = (both * z * z - none) * sine - one * cosine
        rise = 2 * both * z * sine + (both * z * z - none) * slope + one * np.sin(z)
        return value, rise

    # Each face turns the phase by so much; the middle of the bracket is near enough to say how far.
    near_z = order + np.pi / 2
    turned = np.arctan2(far_1, near_1 * near_z) + np.arctan2(far_2, near_2 * near_z)
    return _roots(curve, order, np.asarray(order + np.pi), both.shape[:-1], order + turned)


def _bend(z: Array) -> Array:
    """Return sin z / z - cos z, with all its digits near zero."""
    square = z**2
    near = square / 3 * (1 - square / 10 * (1 - square / 28 * (1 - square / 54)))
    return np.where(z < 0.1, near, np.sinc(z / np.pi) - np.cos(z))


def _parts(biot: ArrayLike) -> tuple[Array, Array]:
    """Return 1 / (1 + Bi) and Bi / (1 + Bi), which stay finite, shape (..., 1)."""
    number = np.asarray(biot, dtype=np.float64)[..., None]
    if np.isnan(number).any() or np.any(number < 0):
        raise OutOfRangeError("A Biot number must be zero or more.", field="biot")
    near = 1.0 / (1.0 + number)
    is_perfect = np.isinf(number)
    return near, np.where(is_perfect, 1.0, np.where(is_perfect, 0.0, number) * near)


@lru_cache(maxsize=32)
def _bessel_brackets(terms: int) -> tuple[Array, Array]:
    """Return where each root of a cylinder may lie."""
    low = np.concatenate([[0.0], jn_zeros(1, max(terms - 1, 1))])[:terms]
    return low, np.asarray(jn_zeros(0, terms))


def _roots(
    curve: Curve, low: Array, high: Array, shape: tuple[int, ...], guess: Array | None = None
) -> Array:
    """Return the root in each bracket, by Newton's steps that never leave it.

    The curve is below zero at the lower end of the first bracket, above it at that of the second,
    and so on.
    """
    sign = np.where(np.arange(len(low)) % 2 == 0, 1.0, -1.0)
    floor = np.broadcast_to(low, (*shape, len(low)))
    ceiling = np.broadcast_to(high, floor.shape)
    middle = (floor + ceiling) / 2
    root = middle if guess is None else np.clip(guess, floor, ceiling)
    for _ in range(_STEPS):
        value, slope = curve(root)
        is_below = sign * value < 0
        floor, ceiling = np.where(is_below, root, floor), np.where(is_below, ceiling, root)
        step = np.divide(value, slope, out=np.full_like(root, np.inf), where=slope != 0)
        stepped = root - step
        is_inside = (stepped >= floor) & (stepped <= ceiling)
        after = np.where(is_inside, stepped, (floor + ceiling) / 2)
        moved = np.abs(after - root)
        root = after
        if np.all(moved <= 4e-16 * (1e-8 + root)):
            break
    # What an insulated body has for its first.
    return np.where(root < 1e-15, 0.0, root)
