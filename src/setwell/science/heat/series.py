"""Slab, cylinder and sphere of uniform food that cool from one temperature, as series.

Temperatures are shares of what was there at the start: (T - T_air) / (T_start - T_air). Times are
Fourier numbers, diffusivity times time over the square of the half thickness or radius.
"""

from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import j0

from setwell.errors import OutOfRangeError
from setwell.science.heat.decay import decay_time
from setwell.science.heat.eigenvalues import (
    cylinder_eigenvalues,
    slab_eigenvalues,
    sphere_eigenvalues,
)
from setwell.science.heat.series_weights import cylinder_weights, slab_weights, sphere_weights

Array = NDArray[np.float64]
# Terms beyond this exponent are less than 1e-16.
_FAINT = 37.0
_LEAST_TERMS, _MOST_TERMS = 6, 2000
_TIME_TERMS = 120


def _slab_shape(z: Array, x: Array) -> Array:
    return np.asarray(np.cos(z * x))


def _cylinder_shape(z: Array, x: Array) -> Array:
    return np.asarray(j0(z * x))


def _sphere_shape(z: Array, x: Array) -> Array:
    return np.asarray(np.sinc(z * x / np.pi))


Form = Literal["slab", "cylinder", "sphere"]
_FORMS = {
    "slab": (slab_eigenvalues, slab_weights, _slab_shape),
    "cylinder": (cylinder_eigenvalues, cylinder_weights, _cylinder_shape),
    "sphere": (sphere_eigenvalues, sphere_weights, _sphere_shape),
}


def terms_for(fourier: ArrayLike) -> int:
    """Return how many terms a series needs for these times.

    Parameters
    ----------
    fourier : array_like, shape (...)
        Fourier numbers; zeros do not count [-].

    Returns
    -------
    int
        Terms, 6 to 2000 [-].

    Raises
    ------
    OutOfRangeError
        If one of them is below zero or not a number.

    Notes
    -----
    n = sqrt(37 / Fo) / pi + 2, which leaves out terms below 1e-16. Valid from a Fourier number of
    1e-6 on; before that more would be needed.

    References
    ----------
    incropera_2007
        One term is enough above 0.2, within about a percent.

    Examples
    --------
    >>> terms_for([0.0, 0.01, 0.5])
    22
    """
    number = np.asarray(fourier, dtype=np.float64)
    if np.isnan(number).any() or np.any(number < 0):
        raise OutOfRangeError("A Fourier number must be zero or more.", field="fourier")
    positive = number[number > 0]
    if not positive.size:
        return _LEAST_TERMS
    wanted = np.ceil(np.sqrt(_FAINT / float(positive.min())) / np.pi) + 2
    return int(np.clip(wanted, _LEAST_TERMS, _MOST_TERMS))


def slab_temperature(fourier: ArrayLike, *, biot: ArrayLike, position: ArrayLike) -> Array:
    """Return the temperature in a slab that cools from both faces.

    It is a share of the difference at the start.

    Parameters
    ----------
    fourier : array_like, shape (...)
        Diffusivity times time over the square of half the thickness, zero or more [-].
    biot : array_like, shape (...)
        Coefficient times half the thickness over the conductivity, up to infinity [-].
    position : array_like, shape (...)
        Distance from the middle plane, as a share of half the thickness [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        (T - T_air) / (T_start - T_air), all three broadcast [-].

    Raises
    ------
    OutOfRangeError
        If a number is below zero or a place lies outside.

    Notes
    -----
    s = sum of C_n cos(z x) e^(-z_n^2 Fo), with as many terms as the earliest
    time needs. Valid from a Fourier number of 1e-6 on.

    References
    ----------
    incropera_2007
        The exact solution for a plane wall.

    Examples
    --------
    >>> slab_temperature(0.2, biot=1.0, position=[0.0, 1.0]).round(6)
    array([0.950642, 0.643391])
    """
    return _share("slab", fourier, biot, position)


def cylinder_temperature(fourier: ArrayLike, *, biot: ArrayLike, position: ArrayLike) -> Array:
    """Return the temperature in a long cylinder, as a share of the difference at the start.

    Parameters
    ----------
    fourier : array_like, shape (...)
        Diffusivity times time over the square of the radius, zero or more [-].
    biot : array_like, shape (...)
        Coefficient times the radius over the conductivity, up to infinity [-].
    position : array_like, shape (...)
        Distance from the axis, as a share of the radius [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        (T - T_air) / (T_start - T_air), all three broadcast [-].

    Raises
    ------
    OutOfRangeError
        If a number is below zero or a place lies outside.

    Notes
    -----
    s = sum of C_n J0(z x) e^(-z_n^2 Fo), with as many terms as the earliest
    time needs. Valid from a Fourier number of 1e-6 on.

    References
    ----------
    incropera_2007
        The exact solution for a long cylinder.

    Examples
    --------
    >>> cylinder_temperature(0.2, biot=1.0, position=[0.0, 1.0]).round(6)
    array([0.870174, 0.570228])
    """
    return _share("cylinder", fourier, biot, position)


def sphere_temperature(fourier: ArrayLike, *, biot: ArrayLike, position: ArrayLike) -> Array:
    """Return the temperature in a sphere, as a share of the difference at the start.

    Parameters
    ----------
    fourier : array_like, shape (...)
        Diffusivity times time over the square of the radius, zero or more [-].
    biot : array_like, shape (...)
        Coefficient times the radius over the conductivity, up to infinity [-].
    position : array_like, shape (...)
        Distance from the center, as a share of the radius [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        (T - T_air) / (T_start - T_air), all three broadcast [-].

    Raises
    ------
    OutOfRangeError
        If a number is below zero or a place lies outside.

    Notes
    -----
    s = sum of C_n sin(z x) / (z x) e^(-z_n^2 Fo), with as many terms as the earliest
    time needs. Valid from a Fourier number of 1e-6 on.

    References
    ----------
    incropera_2007
        The exact solution for a sphere.

    Examples
    --------
    >>> sphere_temperature(0.2, biot=1.0, position=[0.0, 1.0]).round(6)
    array([0.772312, 0.495912])
    """
    return _share("sphere", fourier, biot, position)


def mean_temperature(fourier: ArrayLike, *, form: Form, biot: ArrayLike) -> Array:
    """Return the mean temperature of a body, as a share of the difference at the start.

    What it has given off is one minus this share of all that it can give.

    Parameters
    ----------
    fourier : array_like, shape (...)
        Diffusivity times time over the square of the half thickness or radius [-].
    form : {"slab", "cylinder", "sphere"}
        What it is [-].
    biot : array_like, shape (...)
        Coefficient times half thickness or radius over the conductivity [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        (T_mean - T_air) / (T_start - T_air) [-].

    Raises
    ------
    OutOfRangeError
        If a number is below zero.

    Notes
    -----
    s = sum of C_n m_n e^(-z_n^2 Fo), with the mean m_n of each function. Valid from a Fourier
    number of 1e-6 on.

    References
    ----------
    incropera_2007
        Total energy transfer.

    Examples
    --------
    >>> mean_temperature([0.0, 0.5], form="sphere", biot=1.0).round(6)
    array([1.      , 0.287001])
    """
    return _share(form, fourier, biot, None)


def cooling_fourier(share: ArrayLike, *, form: Form, biot: float, position: float | None) -> Array:
    """Return the Fourier number at which a place has fallen to a share of the difference.

    Parameters
    ----------
    share : array_like, shape (...)
        (T - T_air) / (T_start - T_air) to reach [-].
    form : {"slab", "cylinder", "sphere"}
        What it is [-].
    biot : float
        Coefficient times half thickness or radius over the conductivity [-].
    position : float or None
        Distance from the middle as a share of half thickness or radius; None is the mean [-].

    Returns
    -------
    numpy.ndarray, shape (...)
        Fourier number; zero where nothing is to fall, infinite for a share of zero [-].

    Raises
    ------
    OutOfRangeError
        If a number is below zero or the place lies outside.

    Notes
    -----
    Solves s(Fo) = share with 120 terms. Valid for times from a Fourier number of about 3e-4 on.

    References
    ----------
    incropera_2007
        The exact solutions that are inverted.

    Examples
    --------
    >>> cooling_fourier(0.5, form="slab", biot=1.0, position=0.0).round(6)
    np.float64(1.088528)
    """
    eigenvalues, weights, shape = _FORMS[form]
    z = eigenvalues(float(biot), terms=_TIME_TERMS)
    factor, mean = weights(z)
    view = mean if position is None else shape(z, _position(position))
    return decay_time(share, rates=(z**2,), parts=(factor * view,))


def _share(form: Form, fourier: ArrayLike, biot: ArrayLike, position: ArrayLike | None) -> Array:
    """Return the share at a place, or the mean where no place is given."""
    eigenvalues, weights, shape = _FORMS[form]
    time = np.asarray(fourier, dtype=np.float64)[..., None]
    z = eigenvalues(biot, terms=terms_for(time))
    factor, mean = weights(z)
    view = mean if position is None else shape(z, _position(position)[..., None])
    series = (factor * view * np.exp(-(z**2) * time)).sum(axis=-1)
    return np.asarray(np.where(time[..., 0] > 0, series, 1.0))


def _position(position: ArrayLike) -> Array:
    at = np.asarray(position, dtype=np.float64)
    if not np.all((at >= 0) & (at <= 1)):
        message = "A position must lie between 0, the middle, and 1, the surface."
        raise OutOfRangeError(message, field="position")
    return at
