"""A body cut into cells: what each holds, how they pass heat on, and how to read a place."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.sparse import coo_array, csc_array

from setwell.errors import InputError, OutOfRangeError
from setwell.science.heat.ambient import Ambient, ambient_make

Array = NDArray[np.float64]


class Axis(NamedTuple):
    """One direction of a grid.

    `low` and `high` hold the area of the face over its distance from the center of the cell [m];
    `low_area` and `high_area` the areas of the outer faces [m2]. All are of the shape of the grid,
    or broadcast to it. A face without name lets no heat through.
    """

    name: str
    edges: Array
    low: Array
    high: Array
    low_area: Array
    high_area: Array
    low_face: str = ""
    high_face: str = ""

    @property
    def centers(self) -> Array:
        """Middle of each cell."""
        return (self.edges[1:] + self.edges[:-1]) / 2


class Grid(NamedTuple):
    """All directions of a body."""

    axes: tuple[Axis, ...]

    @property
    def shape(self) -> tuple[int, ...]:
        """Cells in each direction."""
        return tuple(len(axis.edges) - 1 for axis in self.axes)

    @property
    def faces(self) -> tuple[str, ...]:
        """Names of the faces that let heat through, direction by direction."""
        return tuple(name for a in self.axes for name in (a.low_face, a.high_face) if name)

    def outermost(self, name: str) -> tuple[int, tuple[slice | int, ...], Array]:
        """Return the direction of a face, its cells, and area over distance to it [m]."""
        for along, axis in enumerate(self.axes):
            if name in (axis.low_face, axis.high_face):
                is_up = name == axis.high_face
                spots = [slice(None)] * len(self.axes)
                last = (*spots[:along], -1 if is_up else 0, *spots[along + 1 :])
                wide = np.broadcast_to(axis.high if is_up else axis.low, self.shape)
                return along, last, wide[last]
        raise InputError(
            f"This body has no face called {name}.", hint=f"Its faces are {', '.join(self.faces)}."
        )

    def to_face(self, k: Array, name: str, coefficient: ArrayLike) -> Array:
        """Return what each cell passes to the surroundings at one face, shape (m,) [W/K]."""
        along, last, wide = self.outermost(name)
        given = np.asarray(coefficient, dtype=np.float64)
        if np.isnan(given).any() or np.any(given < 0):
            message = f"A heat transfer coefficient at the {name} is below zero or not a number."
            raise OutOfRangeError(message, field=name)
        axis = self.axes[along]
        outside = axis.high_area if name == axis.high_face else axis.low_area
        area = np.broadcast_to(outside, self.shape)[last]
        try:
            outer = np.broadcast_to(given, area.shape) * area
        except ValueError:
            message = f"The {name} has cells of shape {area.shape}, its coefficients {given.shape}."
            raise InputError(message, field=name) from None
        found = np.zeros(self.shape)
        found[last] = _in_series(wide * k[last], outer)
        return found.ravel()

    def links(self, k: Array) -> csc_array:
        """Return the conductances between neighbors as a matrix, shape (m, m) [W/K]."""
        places = np.arange(k.size).reshape(k.shape)
        firsts, seconds, links = [], [], []
        for along, axis in enumerate(self.axes):
            up, down = axis.high * k, axis.low * k
            lower = tuple(slice(None, -1) if i == along else slice(None) for i in range(k.ndim))
            upper = tuple(slice(1, None) if i == along else slice(None) for i in range(k.ndim))
            links.append((up[lower] * down[upper] / (up[lower] + down[upper])).ravel())
            firsts.append(places[lower].ravel())
            seconds.append(places[upper].ravel())
        link, a, b = np.concatenate(links), np.concatenate(firsts), np.concatenate(seconds)
        diagonal = np.bincount(a, link, k.size) + np.bincount(b, link, k.size)
        every = places.ravel()
        values = np.concatenate([-link, -link, diagonal])
        spots = (np.concatenate([a, b, every]), np.concatenate([b, a, every]))
        return csc_array(coo_array((values, spots), shape=(k.size, k.size)))


class Probe(NamedTuple):
    """A place to read: how much each cell (m,) and the air at each face (f,) count; sum 1."""

    cells: Array
    faces: Array


Place = Probe | Sequence[float]
Surroundings = float | tuple[ArrayLike, ArrayLike] | Ambient


@dataclass(frozen=True, slots=True, eq=False)
class Body:
    """Cells of a body, m in all, in the order of its grid flattened.

    `capacity` (m,) [J/K]; `conductance` (m, m), symmetric, whose rows add up to nothing [W/K];
    `to_faces` (f, m) what each cell passes to the surroundings at each face [W/K].
    """

    grid: Grid
    volume: Array
    capacity: Array
    conductivity: Array
    conductance: csc_array
    to_faces: Array

    @property
    def axes(self) -> tuple[Axis, ...]:
        """Its directions."""
        return self.grid.axes

    @property
    def shape(self) -> tuple[int, ...]:
        """Cells in each direction."""
        return self.grid.shape

    @property
    def faces(self) -> tuple[str, ...]:
        """Its faces, in the order of `to_faces`."""
        return self.grid.faces

    @property
    def size(self) -> int:
        """How many cells there are."""
        return len(self.capacity)

    @property
    def to_surroundings(self) -> Array:
        """What each cell passes to the surroundings, all faces together, shape (m,) [W/K]."""
        return np.asarray(self.to_faces.sum(axis=0))

    @property
    def centers(self) -> tuple[Array, ...]:
        """Middle of every cell in each direction, each of shape (m,)."""
        grids = np.meshgrid(*(axis.centers for axis in self.axes), indexing="ij")
        return tuple(grid.ravel() for grid in grids)

    def probe(self, *point: float) -> Probe:
        """Return how to read one place, the surface included.

        Between centers it runs straight, with a kink where the material changes.
        """
        if len(point) != len(self.axes):
            names = ", ".join(axis.name for axis in self.axes)
            raise InputError(f"A place in this body has {len(self.axes)} coordinates: {names}.")
        found = Probe(np.zeros(self.size), np.zeros(len(self.faces)))
        cell = tuple(_cell_of(axis, at) for axis, at in zip(self.axes, point, strict=True))
        self._read(found, cell, point, 0, 1.0)
        return found

    def _read(
        self, found: Probe, cell: tuple[int, ...], point: Sequence[float], along: int, part: float
    ) -> None:
        """Share a part of a reading among a cell and its neighbors, direction by direction."""
        if part == 0.0:
            return
        if along == len(self.axes):
            found.cells[np.ravel_multi_index(cell, self.shape)] += part
            return
        axis, place, at = self.axes[along], cell[along], point[along]
        low, high = float(axis.edges[place]), float(axis.edges[place + 1])
        center, is_up = (low + high) / 2, 2 * at > low + high
        moved = part * min(1.0, abs((at - center) / ((high - low) / 2)))
        neighbor = (*cell[:along], place + (1 if is_up else -1), *cell[along + 1 :])
        name = axis.high_face if is_up else axis.low_face
        if moved > 0.0 and 0 <= neighbor[along] < len(axis.edges) - 1:
            own, other = self._half(cell, along, is_up), self._half(neighbor, along, not is_up)
            moved *= other / (own + other)
            self._read(found, neighbor, point, along + 1, moved)
        elif moved > 0.0 and name:
            number = self.faces.index(name)
            passed = float(self.to_faces[number, np.ravel_multi_index(cell, self.shape)])
            moved *= passed / self._half(cell, along, is_up)
            found.faces[number] += moved
        else:
            moved = 0.0
        self._read(found, cell, point, along + 1, part - moved)

    def _half(self, cell: tuple[int, ...], along: int, is_up: bool) -> float:  # noqa: FBT001
        """Return the conductance from the center of a cell to one of its faces [W/K]."""
        wide = self.axes[along].high if is_up else self.axes[along].low
        spot = tuple(min(at, most - 1) for at, most in zip(cell, wide.shape, strict=True))
        return float(wide[spot] * self.conductivity[np.ravel_multi_index(cell, self.shape)])

    def mean_probe(self) -> Probe:
        """Return how to read the mean of the heat, of all cells."""
        return Probe(self.capacity / self.capacity.sum(), np.zeros(len(self.faces)))

    def at_face(self, name: str, cells: Array, air: float) -> Array:
        """Return the surface temperature at a face, cell by cell of the face, from all cells."""
        _, last, wide = self.grid.outermost(name)
        half = wide * self.conductivity.reshape(self.shape)[last]
        share = self.to_faces[self.faces.index(name)].reshape(self.shape)[last] / half
        inside = cells.reshape(self.shape)[last]
        return np.asarray(inside + share * (air - inside))

    def resurfaced(self, coefficients: Mapping[str, ArrayLike]) -> "Body":
        """Return the body with other coefficients at these faces; the rest stays [W/m2K]."""
        rows, k = self.to_faces.copy(), self.conductivity.reshape(self.shape)
        for name, coefficient in coefficients.items():
            row = self.grid.to_face(k, name, coefficient)
            rows[self.faces.index(name)] = row
        return replace(self, to_faces=rows)

    def reconducted(self, conductivity: Array) -> "Body":
        """Return the body with other conductivities of its cells (m,), its surface as before."""
        k, before = conductivity.reshape(self.shape), self.conductivity.reshape(self.shape)
        rows = np.zeros_like(self.to_faces)
        for row, old, name in zip(rows, self.to_faces, self.faces, strict=True):
            _, last, wide = self.grid.outermost(name)
            passed, half = old.reshape(self.shape)[last], wide * before[last]
            # What the surface alone lets through, without end where contact is perfect.
            with np.errstate(divide="ignore"):
                outer = half * passed / np.maximum(half - passed, 0.0)
            row.reshape(self.shape)[last] = _in_series(wide * k[last], outer)
        links = self.grid.links(k)
        return replace(self, conductivity=k.ravel(), conductance=links, to_faces=rows)

    def lines(self, surroundings: "Surroundings | Mapping[str, Surroundings]") -> list[Ambient]:
        """Return the surroundings of each face."""
        if not isinstance(surroundings, Mapping):
            return [ambient_make(surroundings)] * len(self.faces)
        wrong = set(surroundings) ^ set(self.faces)
        if wrong:
            raise InputError(
                f"The surroundings and the faces differ in {', '.join(sorted(wrong))}.",
                hint=f"Give one temperature for each of {', '.join(self.faces)}.",
            )
        return [ambient_make(surroundings[name]) for name in self.faces]

    def start(self, temperature: ArrayLike) -> Array:
        """Return the temperature of all cells from one, or from one of each."""
        given = np.asarray(temperature, dtype=np.float64)
        if given.size not in (1, self.size) or not np.isfinite(given).all():
            raise InputError(
                f"The start needs one temperature or one for each of {self.size} cells; "
                f"got {given.size}, and each must be a number."
            )
        return np.array(np.broadcast_to(given.ravel(), (self.size,)))

    def reading(self, places: Sequence[Place]) -> list[Probe]:
        """Return how to read each of some places."""
        return [place if isinstance(place, Probe) else self.probe(*place) for place in places]


def _cell_of(axis: Axis, at: float) -> int:
    """Return which cell of an axis a coordinate lies in."""
    low, high = float(axis.edges[0]), float(axis.edges[-1])
    slack = 1e-9 * (high - low)
    if not low - slack <= at <= high + slack:
        raise OutOfRangeError(
            f"The place {axis.name} = {at:g} lies outside the body.",
            field=axis.name,
            hint=f"It reaches from {low:g} to {high:g}.",
        )
    found = int(axis.edges.searchsorted(at, side="right")) - 1
    return min(max(found, 0), len(axis.edges) - 2)


def _in_series(half: Array, outer: Array) -> Array:
    """Return the conductance of half a cell and the surface, one after the other [W/K]."""
    is_perfect = np.isinf(outer)
    finite = np.where(is_perfect, 0.0, outer)
    return half * np.where(is_perfect, 1.0, finite / (half + finite))
