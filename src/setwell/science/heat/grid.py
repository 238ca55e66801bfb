"""A body cut into cells: what each holds, how they pass heat on, and how to read a place."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.sparse import coo_array, csc_array

from setwell.errors import InputError, OutOfRangeError

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


class Probe(NamedTuple):
    """A place to read: how much each cell (m,) and the air at each face (f,) count; sum 1."""

    cells: Array
    faces: Array


@dataclass(frozen=True, slots=True, eq=False)
class Body:
    """Cells of a body, m in all, in the order of its grid flattened.

    `capacity` (m,) [J/K]; `conductance` (m, m), symmetric, whose rows add up to nothing [W/K];
    `to_faces` (f, m) what each cell passes to the surroundings at each face [W/K].
    """

    axes: tuple[Axis, ...]
    volume: Array
    capacity: Array
    conductivity: Array
    conductance: csc_array
    faces: tuple[str, ...]
    to_faces: Array

    @property
    def shape(self) -> tuple[int, ...]:
        """Cells in each direction."""
        return tuple(len(axis.edges) - 1 for axis in self.axes)

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
        axis, place = self.axes[along], cell[along]
        center, is_up = float(axis.centers[place]), point[along] > axis.centers[place]
        face = float(axis.edges[place + 1 if is_up else place])
        moved = part * min(1.0, abs((point[along] - center) / (face - center)))
        neighbor = (*cell[:along], place + (1 if is_up else -1), *cell[along + 1 :])
        if 0 <= neighbor[along] < self.shape[along]:
            own, other = self._half(cell, along, is_up), self._half(neighbor, along, not is_up)
            moved *= other / (own + other)
            self._read(found, neighbor, point, along + 1, moved)
        else:
            name = axis.high_face if is_up else axis.low_face
            if not name:
                moved = 0.0
            else:
                number = self.faces.index(name)
                flat = np.ravel_multi_index(cell, self.shape)
                moved *= float(self.to_faces[number, flat]) / self._half(cell, along, is_up)
                found.faces[number] += moved
        self._read(found, cell, point, along + 1, part - moved)

    def _half(self, cell: tuple[int, ...], along: int, is_up: bool) -> float:  # noqa: FBT001
        """Return the conductance from the center of a cell to one of its faces [W/K]."""
        axis = self.axes[along]
        wide = np.broadcast_to(axis.high if is_up else axis.low, self.shape)
        return float(wide[cell] * self.conductivity[np.ravel_multi_index(cell, self.shape)])

    def mean_probe(self, within: ArrayLike | None = None) -> Probe:
        """Return how to read the mean of the heat, of all cells or of those within (m,)."""
        weights = self.capacity if within is None else self.capacity * np.ravel(np.asarray(within))
        return Probe(weights / weights.sum(), np.zeros(len(self.faces)))

    def resurfaced(self, coefficients: Mapping[str, ArrayLike]) -> "Body":
        """Return the body with other coefficients at these faces; the rest stays [W/m2K]."""
        unknown = set(coefficients) - set(self.faces)
        if unknown:
            raise InputError(
                f"This body has no face called {', '.join(sorted(unknown))}.",
                hint=f"Its faces are {', '.join(self.faces)}.",
            )
        rows = self.to_faces.copy()
        for name, coefficient in coefficients.items():
            rows[self.faces.index(name)] = _to_face(
                self.axes, self.shape, self.conductivity, name, coefficient
            )
        return replace(self, to_faces=rows)


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
    return int(np.clip(axis.edges.searchsorted(at, side="right") - 1, 0, len(axis.edges) - 2))


def _to_face(
    axes: tuple[Axis, ...],
    shape: tuple[int, ...],
    conductivity: Array,
    name: str,
    coefficient: ArrayLike,
) -> Array:
    """Return what each cell passes to the surroundings at one face, shape (m,) [W/K]."""
    along = next(i for i, axis in enumerate(axes) if name in (axis.low_face, axis.high_face))
    axis, is_up = axes[along], axes[along].high_face == name
    given = np.asarray(coefficient, dtype=np.float64)
    if np.isnan(given).any() or np.any(given < 0):
        message = f"A heat transfer coefficient at the {name} is below zero or not a number."
        raise OutOfRangeError(message, field=name)
    outermost: list[slice | int] = [slice(None)] * len(shape)
    outermost[along] = -1 if is_up else 0
    last = tuple(outermost)
    area = np.broadcast_to(axis.high_area if is_up else axis.low_area, shape)[last]
    wide = np.broadcast_to(axis.high if is_up else axis.low, shape)
    half = (wide * conductivity.reshape(shape))[last]
    try:
        outer = np.broadcast_to(given, area.shape) * area
    except ValueError:
        message = f"The {name} has cells of shape {area.shape}, its coefficients {given.shape}."
        raise InputError(message, field=name) from None
    # Perfect contact leaves the conductance of the half cell alone.
    is_perfect = np.isinf(outer)
    finite = np.where(is_perfect, 0.0, outer)
    found = np.zeros(shape)
    found[last] = half * np.where(is_perfect, 1.0, finite / (half + finite))
    return found.ravel()


def body_of(
    axes: tuple[Axis, ...],
    volume: Array,
    conductivity: ArrayLike,
    volumetric_heat: ArrayLike,
    coefficients: Mapping[str, ArrayLike],
) -> Body:
    """Return the body on a grid of any shape.

    Parameters
    ----------
    axes : tuple of Axis
        Directions of the grid with their faces [m].
    volume : numpy.ndarray, shape of the grid
        Volume of each cell [m3].
    conductivity : array_like, scalar or shape of the grid
        Thermal conductivity of each cell, above zero [W/mK].
    volumetric_heat : array_like, scalar or shape of the grid
        Density times specific heat of each cell, above zero [J/m3K].
    coefficients : mapping of str to array_like
        Heat transfer coefficient by face, scalar or by cell of the face [W/m2K].

    Returns
    -------
    Body
        Its cells, m in all [J/K, W/K].

    Raises
    ------
    InputError
        If a shape does not fit, or a size or property is not above zero.

    Notes
    -----
    G = 1 / (d_1 / (k_1 A) + d_2 / (k_2 A)) between two cells, with the distances of their centers
    from the face. It holds for any jump of the conductivity at a face and is of second order.

    References
    ----------
    patankar_1980
        Conductances in series at the faces of control volumes.

    Examples
    --------
    >>> from setwell.science.heat.body import box_body
    >>> edges = [0.0, 0.01, 0.02]
    >>> box_body(edges, edges, edges, conductivity=0.5, volumetric_heat=4e6,
    ...     coefficients={"top": 8.0}).size
    8
    """
    shape = tuple(len(axis.edges) - 1 for axis in axes)
    k = _cells("conductivity", conductivity, shape)
    heat = _cells("volumetric_heat", volumetric_heat, shape)
    places = np.arange(k.size).reshape(shape)
    rows, columns, values = [], [], []
    diagonal = np.zeros(k.size)
    for along, axis in enumerate(axes):
        up, down = axis.high * k, axis.low * k
        lower = tuple(slice(None, -1) if i == along else slice(None) for i in range(len(shape)))
        upper = tuple(slice(1, None) if i == along else slice(None) for i in range(len(shape)))
        link = (up[lower] * down[upper] / (up[lower] + down[upper])).ravel()
        a, b = places[lower].ravel(), places[upper].ravel()
        rows += [a, b]
        columns += [b, a]
        values += [-link, -link]
        diagonal[a] += link
        diagonal[b] += link
    rows.append(places.ravel())
    columns.append(places.ravel())
    values.append(diagonal)
    matrix = coo_array(
        (np.concatenate(values), (np.concatenate(rows), np.concatenate(columns))),
        shape=(k.size, k.size),
    ).tocsc()
    faces = tuple(name for axis in axes for name in (axis.low_face, axis.high_face) if name)
    to_faces = [_to_face(axes, shape, k.ravel(), name, coefficients[name]) for name in faces]
    size = np.broadcast_to(volume, shape)
    return Body(
        axes, size.ravel(), (size * heat).ravel(), k.ravel(), matrix, faces, np.stack(to_faces)
    )


def _cells(name: str, given: ArrayLike, shape: tuple[int, ...]) -> Array:
    """Return a property of every cell, all above zero."""
    values = np.asarray(given, dtype=np.float64)
    if not (np.isfinite(values).all() and np.all(values > 0)):
        raise OutOfRangeError(f"Every {name.replace('_', ' ')} must be above zero.", field=name)
    try:
        return np.broadcast_to(values, shape)
    except ValueError:
        raise InputError(
            f"The body has cells of shape {shape}, its {name.replace('_', ' ')} {values.shape}.",
            field=name,
        ) from None


def edges_of(name: str, edges: ArrayLike, *, least: float = -np.inf) -> Array:
    """Return the edges of cells along one direction, checked.

    Parameters
    ----------
    name : str
        Which direction it is [-].
    edges : array_like, shape (n + 1,)
        Edges, rising [m].
    least : float
        The least that the first may be [m].

    Returns
    -------
    numpy.ndarray, shape (n + 1,)
        The same [m].

    Raises
    ------
    InputError
        If there are fewer than two or they do not rise.

    Notes
    -----
    w_i = x_(i+1) - x_i must be above zero for each cell.

    References
    ----------
    common_practice
        Cells have a width.

    Examples
    --------
    >>> edges_of("x", [0, 0.01])
    array([0.  , 0.01])
    """
    found = np.asarray(edges, dtype=np.float64)
    if found.ndim != 1 or len(found) < 2 or not np.isfinite(found).all():
        raise InputError(f"The edges along {name} must be two or more numbers.", field=name)
    if np.any(np.diff(found) <= 0) or found[0] < least:
        raise OutOfRangeError(
            f"The edges along {name} must rise"
            + (f" from {least:g} or more." if np.isfinite(least) else ".")
            + " A layer without thickness cannot hold or pass on heat.",
            field=name,
            hint="Leave such a layer out.",
        )
    return found
