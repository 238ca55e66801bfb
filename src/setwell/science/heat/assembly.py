"""From the geometry and the properties of cells to a body."""

from collections.abc import Mapping

import numpy as np
from numpy.typing import ArrayLike, NDArray

from setwell.errors import InputError, OutOfRangeError
from setwell.science.heat.grid import Axis, Body, Grid

Array = NDArray[np.float64]


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
    grid = Grid(axes)
    k = _cells("conductivity", conductivity, grid.shape)
    heat = _cells("volumetric_heat", volumetric_heat, grid.shape)
    size = np.broadcast_to(volume, grid.shape)
    to_faces = np.stack([grid.to_face(k, name, coefficients[name]) for name in grid.faces])
    return Body(grid, size.ravel(), (size * heat).ravel(), k.ravel(), grid.links(k), to_faces)


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
