"""Uniform food as slab, box, cylinder or ball, with coefficients of its own at every face.

The temperature is a product of series, one for each direction: exact, and without any grid.
"""

from collections.abc import Mapping
from typing import Literal, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.special import j0

from setwell.errors import InputError, OutOfRangeError
from setwell.science.heat.ambient import Ambient, ambient_make
from setwell.science.heat.decay import decay_time
from setwell.science.heat.eigenvalues import (
    cylinder_eigenvalues,
    sphere_eigenvalues,
    two_faced_slab_eigenvalues,
)
from setwell.science.heat.series_weights import cylinder_weights, sphere_weights

Array = NDArray[np.float64]

_TERMS = 60
# Products of terms kept while the surroundings change, slowest first.
_MOST_MODES = 3000
_FAINT = 37.0
# Times up to so many times the first share its terms, unless these are few anyway.
_LATER, _FEW = 8.0, 12


class Direction(NamedTuple):
    """The series of one direction: rates of decay [1/s] and what its terms look like, (n,)."""

    kind: Literal["slab", "cylinder", "sphere"]
    size: float
    roots: Array
    rates: Array
    factors: Array
    means: Array
    phases: Array

    def parts(self, at: float | None) -> Array:
        """Return what each term adds at a place, or to the mean, at the start."""
        if at is None:
            return self.factors * self.means
        if not -1e-9 * self.size <= at <= self.size * (1 + 1e-9):
            raise OutOfRangeError(
                f"The place {at:g} m lies outside the body, which measures {self.size:g} m there."
            )
        x = self.roots * at / self.size
        if self.kind == "slab":
            return np.asarray(self.factors * np.cos(x - self.phases))
        if self.kind == "cylinder":
            return np.asarray(self.factors * j0(x))
        return np.asarray(self.factors * np.sinc(x / np.pi))

    def course(self, seconds: Array, at: float | None) -> Array:
        """Return the factor of this direction at every time; one at the start."""
        found, parts = np.ones_like(seconds), self.parts(at)
        is_left = seconds > 0
        while is_left.any():
            first = float(seconds[is_left].min())
            # Later times need fewer terms.
            count = int(np.searchsorted(self.rates * first, _FAINT)) + 1
            now = is_left & (seconds <= _LATER * first) if count > _FEW else is_left
            found[now] = np.exp(-np.outer(seconds[now], self.rates[:count])) @ parts[:count]
            is_left = is_left & ~now
        return found


class UniformBody(NamedTuple):
    """Uniform food, one direction after the other; places are given in the same order [m]."""

    directions: tuple[Direction, ...]

    def temperature(
        self,
        seconds: ArrayLike,
        *,
        start: float,
        surroundings: float | tuple[ArrayLike, ArrayLike] | Ambient,
        point: tuple[float, ...] | None = None,
    ) -> Array:
        """Return the temperature at a place, or the mean, at every time (p,) [K]."""
        time = np.asarray(seconds, dtype=np.float64)
        if not np.all(time >= 0):
            raise OutOfRangeError("Every time must be zero or more seconds.")
        line, places = ambient_make(surroundings), self._places(point)
        left = np.ones_like(time)
        for direction, at in zip(self.directions, places, strict=True):
            left = left * direction.course(time, at)
        found = line.at(time) + (start - line.first) * left
        return found if line.is_constant else found - self._lag(line, time, places)

    def time_to(
        self,
        temperature: ArrayLike,
        *,
        start: float,
        surroundings: float,
        point: tuple[float, ...] | None = None,
    ) -> Array:
        """Return when a place, or the mean, reaches each temperature (...) [s].

        Zero where it is there from the start, infinite where it never comes.
        """
        if start == surroundings:
            reached = np.asarray(temperature, dtype=np.float64) == start
            return np.where(reached, 0.0, np.inf)
        share = (np.asarray(temperature, dtype=np.float64) - surroundings) / (start - surroundings)
        pairs = zip(self.directions, self._places(point), strict=True)
        return decay_time(
            share,
            rates=tuple(direction.rates for direction in self.directions),
            parts=tuple(direction.parts(at) for direction, at in pairs),
        )

    def _places(self, point: tuple[float, ...] | None) -> tuple[float | None, ...]:
        if point is None:
            return (None,) * len(self.directions)
        if len(point) != len(self.directions):
            raise InputError(f"A place in this body has {len(self.directions)} coordinates.")
        return point

    def _lag(self, line: Ambient, time: Array, places: tuple[float | None, ...]) -> Array:
        """Return by how much the place lags behind surroundings that change."""
        rates, parts = np.zeros(1), np.ones(1)
        for direction, at in zip(self.directions, places, strict=True):
            rates = np.add.outer(rates, direction.rates).ravel()
            parts = np.multiply.outer(parts, direction.parts(at)).ravel()
            slowest = np.argsort(rates)[:_MOST_MODES]
            rates, parts = rates[slowest], parts[slowest]
        return np.asarray(line.lag(rates, time) @ parts)


def uniform_slab(
    thickness: float, *, conductivity: float, diffusivity: float, low: float, high: float
) -> UniformBody:
    """Return a wide slab of uniform food.

    Parameters
    ----------
    thickness : float
        Its thickness [m].
    conductivity : float
        Thermal conductivity [W/mK].
    diffusivity : float
        Thermal diffusivity [m2/s].
    low : float
        Heat transfer coefficient at the face where places are counted from [W/m2K].
    high : float
        The same at the other face [W/m2K].

    Returns
    -------
    UniformBody
        Ready to be asked for temperatures and times [K, s].

    Raises
    ------
    OutOfRangeError
        If a size or property is not above zero.

    Notes
    -----
    s(x, t) = sum of C cos(z x / L - p) e^(-z^2 a t / L^2), tan p = h_1 L / (k z). Valid for
    coefficients from zero to infinity.

    References
    ----------
    carslaw_jaeger_1959
        The slab with radiation at both surfaces.

    Examples
    --------
    >>> slab = uniform_slab(0.04, conductivity=0.55, diffusivity=1.4e-7, low=8.0, high=8.0)
    >>> slab.time_to([20.0], start=80.0, surroundings=2.0, point=(0.02,)).round(2)
    array([16286.11])
    """
    return UniformBody((_straight(thickness, conductivity, diffusivity, low, high),))


def uniform_box(
    sizes: tuple[float, ...],
    *,
    conductivity: float,
    diffusivity: float,
    coefficients: Mapping[str, float],
) -> UniformBody:
    """Return a box of uniform food.

    Parameters
    ----------
    sizes : tuple of float
        Width, depth and height [m].
    conductivity : float
        Thermal conductivity [W/mK].
    diffusivity : float
        Thermal diffusivity [m2/s].
    coefficients : mapping of str to float
        Heat transfer coefficient at left, right, front, back, bottom and top; zero where none is
        given [W/m2K].

    Returns
    -------
    UniformBody
        Ready to be asked for temperatures and times; places from the left front bottom corner
        [K, s].

    Raises
    ------
    InputError
        If there are not three sizes, or a face has another name.
    OutOfRangeError
        If a size or property is not above zero.

    Notes
    -----
    s(x, y, z, t) = s_x s_y s_z, the product of three slabs. Valid for coefficients from zero to
    infinity and surroundings of one temperature.

    References
    ----------
    carslaw_jaeger_1959
        Products of solutions for bodies of several directions.

    Examples
    --------
    >>> names = ("left", "right", "front", "back", "bottom", "top")
    >>> cube = uniform_box((0.03, 0.03, 0.03), conductivity=0.55, diffusivity=1.4e-7,
    ...     coefficients=dict.fromkeys(names, 25.0))
    >>> cube.time_to(10.0, start=80.0, surroundings=2.0, point=(0.015, 0.015, 0.015)).round(2)
    np.float64(2462.81)
    """
    pairs = (("left", "right"), ("front", "back"), ("bottom", "top"))
    unknown = set(coefficients) - {name for pair in pairs for name in pair}
    if unknown or len(sizes) != 3:
        raise InputError(
            "A box has three sizes and the faces left, right, front, back, bottom and top."
        )
    return UniformBody(
        tuple(
            _straight(size, conductivity, diffusivity, *(coefficients.get(n, 0.0) for n in pair))
            for size, pair in zip(sizes, pairs, strict=True)
        )
    )


def uniform_cylinder(
    radius: float,
    height: float,
    *,
    conductivity: float,
    diffusivity: float,
    side: float,
    top: float,
    bottom: float,
) -> UniformBody:
    """Return a cylinder of uniform food.

    Parameters
    ----------
    radius : float
        Its radius [m].
    height : float
        Its height [m].
    conductivity : float
        Thermal conductivity [W/mK].
    diffusivity : float
        Thermal diffusivity [m2/s].
    side : float
        Heat transfer coefficient at the side [W/m2K].
    top : float
        The same at the top [W/m2K].
    bottom : float
        The same at the bottom [W/m2K].

    Returns
    -------
    UniformBody
        Ready to be asked for temperatures and times; places are radius and height above the bottom
        [K, s].

    Raises
    ------
    OutOfRangeError
        If a size or property is not above zero.

    Notes
    -----
    s(r, z, t) = s_r s_z, the product of a long cylinder and a slab. Valid for coefficients from
    zero to infinity and surroundings of one temperature.

    References
    ----------
    carslaw_jaeger_1959
        Products of solutions for bodies of several directions.

    Examples
    --------
    >>> jar = uniform_cylinder(0.035, 0.08, conductivity=0.55, diffusivity=1.4e-7, side=8.0,
    ...     top=8.0, bottom=8.0)
    >>> jar.time_to(5.0, start=80.0, surroundings=2.0, point=(0.0, 0.04)).round(2)
    np.float64(23726.19)
    """
    _positive(radius=radius, conductivity=conductivity, diffusivity=diffusivity)
    z = cylinder_eigenvalues(side * radius / conductivity, terms=_TERMS)
    around = Direction(
        "cylinder", radius, z, diffusivity * (z / radius) ** 2, *cylinder_weights(z), np.zeros(0)
    )
    return UniformBody((around, _straight(height, conductivity, diffusivity, bottom, top)))


def uniform_ball(
    radius: float, *, conductivity: float, diffusivity: float, surface: float
) -> UniformBody:
    """Return a ball of uniform food.

    Parameters
    ----------
    radius : float
        Its radius [m].
    conductivity : float
        Thermal conductivity [W/mK].
    diffusivity : float
        Thermal diffusivity [m2/s].
    surface : float
        Heat transfer coefficient at the surface [W/m2K].

    Returns
    -------
    UniformBody
        Ready to be asked for temperatures and times; a place is the distance from the center
        [K, s].

    Raises
    ------
    OutOfRangeError
        If a size or property is not above zero.

    Notes
    -----
    s(r, t) = sum of C sin(z r / R) / (z r / R) e^(-z^2 a t / R^2). Valid for coefficients from zero
    to infinity; half a ball with an insulated flat face cools alike.

    References
    ----------
    carslaw_jaeger_1959
        The sphere with radiation at its surface.

    Examples
    --------
    >>> ball = uniform_ball(0.03, conductivity=0.55, diffusivity=1.4e-7, surface=25.0)
    >>> ball.time_to([35.0, 5.0], start=80.0, surroundings=2.0, point=(0.0,)).round(2)
    array([2381.53, 7285.38])
    """
    _positive(radius=radius, conductivity=conductivity, diffusivity=diffusivity)
    z = sphere_eigenvalues(surface * radius / conductivity, terms=_TERMS)
    shells = Direction(
        "sphere", radius, z, diffusivity * (z / radius) ** 2, *sphere_weights(z), np.zeros(0)
    )
    return UniformBody((shells,))


def _straight(size: float, conductivity: float, diffusivity: float, *faces: float) -> Direction:
    """Return the series of one straight direction with a coefficient at either face."""
    _positive(thickness=size, conductivity=conductivity, diffusivity=diffusivity)
    low, high = (face * size / conductivity for face in faces)
    z = two_faced_slab_eigenvalues(low, high, terms=_TERMS)
    # The phase of an insulated face is zero, of a perfectly cooled one a quarter turn.
    phase = np.full_like(z, np.pi / 2) if np.isinf(low) else np.arctan2(low, z)
    mean = np.sinc(z / 2 / np.pi) * np.cos(z / 2 - phase)
    norm = (1.0 + np.sinc(z / np.pi) * np.cos(z - 2 * phase)) / 2
    return Direction("slab", size, z, diffusivity * (z / size) ** 2, mean / norm, mean, phase)


def _positive(**given: float) -> None:
    for name, value in given.items():
        if not (np.isfinite(value) and value > 0):
            message = f"The {name} is {value:g}; it must be above zero."
            raise OutOfRangeError(message, field=name)
