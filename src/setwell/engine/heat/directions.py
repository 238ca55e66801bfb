"""Small systems for the cooling of a body: one direction each, ready for any surface coefficient.

A direction holds polynomials on which mass is the identity, so that its temperature coordinates
follow dy/dt = -(conduction + sum of U_face x face) y. The body is the product of its directions.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.polynomial import legendre
from numpy.typing import NDArray

Array = NDArray[np.float64]

# Polynomials in a half (mirror in the middle) and in a whole direction.
_HALF, _WHOLE = 16, 24
# Places along a direction among which the slowest is sought.
_SCAN = 17
# Weights of the volume: a slab, round a line, round a point.
SLAB, ROUND, BALL = 0, 1, 2


@dataclass(frozen=True, slots=True)
class Direction:
    """One direction; arrays hold r coordinates.

    `conduction` (r, r) [1/s], `faces` (r, r) per face [m2K/Ws], `start` (r,) the coordinates of
    one degree everywhere, `middle` and `mean` (1, r), `scan` (m, r), `ends` (1, r) per face.
    """

    conduction: Array
    faces: Mapping[str, Array]
    start: Array
    middle: Array
    mean: Array
    scan: Array
    ends: Mapping[str, Array]


@dataclass(frozen=True, slots=True)
class SmallBody:
    """Directions that multiply, and the rows that read a temperature off each of them.

    `core` are the places among which the slowest is sought, `surface` one place on the skin,
    `faces` the mean of each face, `mean` that of the whole. `resistances` lie between each face
    and the air beyond it, such as a thin wall [m2K/W].
    """

    directions: tuple[Direction, ...]
    core: tuple[Array, ...]
    surface: tuple[Array, ...]
    faces: Mapping[str, tuple[Array, ...]]
    mean: tuple[Array, ...]
    resistances: Mapping[str, float]


def half_direction(
    half: float, *, face: str, weight: int, conductivity: float, capacity: float
) -> Direction:
    """Return a direction that mirrors in its middle, `half` meters from middle to face.

    `weight` says how volume grows outward: SLAB, ROUND or BALL; `capacity` is J/m3K.
    """
    mass, stiff, values, mean = _polynomials(weight, is_half=True)
    edge = np.ones((1, len(mass)))
    return _direction(
        (mass, stiff * conductivity / (capacity * half**2)),
        faces={face: edge.T @ edge / (capacity * half)},
        rows=(values, mean),
        ends={face: edge},
        middle=0,
    )


def whole_direction(
    length: float, *, faces: tuple[str, str], conductivity: float, capacity: float
) -> Direction:
    """Return a direction whose two faces differ, `length` meters from the first to the second."""
    mass, stiff, values, mean = _polynomials(SLAB, is_half=False)
    half = length / 2.0
    last = np.ones((1, len(mass)))
    first = np.where(np.arange(len(mass)) % 2, -1.0, 1.0)[None, :]
    scale = 1.0 / (capacity * half)
    return _direction(
        (mass, stiff * conductivity / (capacity * half**2)),
        faces={faces[0]: first.T @ first * scale, faces[1]: last.T @ last * scale},
        rows=(values, mean),
        ends={faces[0]: first, faces[1]: last},
        middle=_SCAN // 2,
    )


def _direction(
    system: tuple[Array, Array],
    *,
    faces: dict[str, Array],
    rows: tuple[Array, Array],
    ends: dict[str, Array],
    middle: int,
) -> Direction:
    """Return the direction in coordinates on which mass is the identity."""
    mass, stiff = system
    values, mean = rows
    inverse = np.linalg.inv(np.linalg.cholesky(mass))
    back = inverse.T
    # The constant is the first polynomial; its coordinates solve start @ back.T = first.
    first = np.zeros(len(mass))
    first[0] = 1.0
    return Direction(
        conduction=inverse @ stiff @ back,
        faces={name: inverse @ one @ back for name, one in faces.items()},
        start=np.asarray(np.linalg.solve(back, first), dtype=np.float64),
        middle=values[middle][None] @ back,
        mean=mean @ back,
        scan=values @ back,
        ends={name: row @ back for name, row in ends.items()},
    )


@lru_cache(maxsize=8)
def _polynomials(weight: int, *, is_half: bool) -> tuple[Array, Array, Array, Array]:
    """Return mass and stiffness of Legendre polynomials, their values and their means.

    On a half direction they are the even ones from 0 to 1, on a whole one all from -1 to 1.
    """
    count = _HALF if is_half else _WHOLE
    degrees = np.arange(count) * (2 if is_half else 1)
    points, measures = legendre.leggauss(2 * _HALF + 4)
    if is_half:
        points, measures = (points + 1.0) / 2.0, measures / 2.0
    measures = measures * points**weight
    value, slope = _values(points, degrees)
    mass = value.T * measures @ value
    stiff = slope.T * measures @ slope
    places = np.linspace(0.0, 1.0, _SCAN + 1)[:-1] if is_half else np.linspace(-1.0, 1.0, _SCAN)
    mean = (measures @ value / measures.sum())[None, :]
    return mass, stiff, _values(places, degrees)[0], mean


def _values(points: Array, degrees: NDArray[np.int64]) -> tuple[Array, Array]:
    """Return values and slopes of the Legendre polynomials of these degrees at the points."""
    identity = np.eye(int(degrees[-1]) + 1)[:, degrees]
    value = legendre.legval(points, identity).T
    slope = legendre.legval(points, legendre.legder(identity)).T
    return np.asarray(value), np.asarray(slope)
