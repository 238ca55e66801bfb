"""A body of many cells as one small direction: the few shapes its temperature really takes."""

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from setwell.engine.heat.directions import Direction, SmallBody
from setwell.science.heat.body import Body
from setwell.science.heat.krylov import shifted_factors

Array = NDArray[np.float64]
Places = NDArray[np.intp]

# Rounds of shapes, one of the whole body and one of each face in every round.
_ROUNDS = 6
# Each relaxes over this part of the time that counts.
_RELAXED = 20.0
# A shape that adds less than this to those found is dropped.
_LEAST = 1e-7


def cells_reduce(
    body: Body,
    *,
    coefficients: Mapping[str, float],
    span: float,
    core: Places,
    surface: Array,
) -> SmallBody:
    """Return a body of cells as one direction that keeps any coefficient of its faces free.

    `coefficients` are usual ones [W/m2K] and `span` the time that counts [s]: around them the
    shapes are sought. `core` (q,) are the cells among which the slowest is sought, `surface`
    (m,) the weights that read the skin.
    """
    root = np.sqrt(body.capacity)
    patterns, resistances = _faces(body, coefficients)
    shapes = _shapes(body.resurfaced(coefficients), patterns, span)
    inner = shapes / root[:, None]
    places = inner[core]
    direction = Direction(
        conduction=inner.T @ (body.conductance @ inner),
        faces={name: inner.T @ (one[:, None] * inner) for name, one in patterns.items()},
        start=shapes.T @ root,
        middle=places[:1],
        mean=body.mean_probe().cells[None] @ inner,
        scan=places,
        ends={name: (one / one.sum())[None] @ inner for name, one in patterns.items()},
    )
    return SmallBody(
        directions=(direction,),
        core=(direction.scan,),
        surface=(surface[None] @ inner,),
        faces={name: (row,) for name, row in direction.ends.items()},
        mean=(direction.mean,),
        resistances=resistances,
    )


def _faces(
    body: Body, coefficients: Mapping[str, float]
) -> tuple[dict[str, Array], dict[str, float]]:
    """Return the area of each face by cell [m2], and what lies between cell and face [m2K/W].

    Where cells of one face lie at different depths, their areas are weighted so that the usual
    coefficient is met exactly.
    """
    passed = body.resurfaced(coefficients).to_faces
    half = body.resurfaced(dict.fromkeys(body.faces, np.inf)).to_faces
    patterns: dict[str, Array] = {}
    resistances: dict[str, float] = {}
    for name, one, bare in zip(body.faces, passed, half, strict=True):
        outer = 1.0 / coefficients[name]
        at = np.flatnonzero(one > 0)
        area = outer / (1.0 / one[at] - 1.0 / bare[at])
        between = float((area**2 / bare[at]).sum() / area.sum())
        patterns[name] = np.zeros(body.size)
        patterns[name][at] = one[at] * (outer + between)
        resistances[name] = between
    return patterns, resistances


def _shapes(body: Body, patterns: Mapping[str, Array], span: float) -> Array:
    """Return orthonormal shapes (m, r): the body relaxed again and again from a few starts."""
    root = np.sqrt(body.capacity)
    factors = shifted_factors(body, span / _RELAXED)
    fresh = np.column_stack([root, *(one / root for one in patterns.values())])
    found = np.empty((body.size, 0))
    for _ in range(_ROUNDS):
        fresh = _orthonormal(fresh, found)
        if fresh.shape[1] == 0:
            break
        found = np.column_stack([found, fresh])
        fresh = factors.solve(fresh)
    return found


def _orthonormal(fresh: Array, found: Array) -> Array:
    """Return the new shapes free of the ones found and of each other."""
    fresh = fresh / np.linalg.norm(fresh, axis=0)
    for _ in range(2):
        fresh = fresh - found @ (found.T @ fresh)
    base, scale, _ = np.linalg.svd(fresh, full_matrices=False)
    return np.asarray(base[:, scale > _LEAST])
