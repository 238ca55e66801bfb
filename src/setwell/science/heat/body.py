"""Bodies of kitchen shapes as cells: walls, air under a lid, layers and pieces are just cells."""

from collections.abc import Mapping

import numpy as np
from numpy.typing import ArrayLike, NDArray

from setwell.errors import InputError
from setwell.science.heat.assembly import body_of, edges_of
from setwell.science.heat.grid import Axis, Body, Probe

__all__ = ["Body", "Probe", "ball_body", "box_body", "cylinder_body", "hemisphere_body"]

Array = NDArray[np.float64]


def cylinder_body(
    r_edges: ArrayLike,
    z_edges: ArrayLike,
    *,
    conductivity: ArrayLike,
    volumetric_heat: ArrayLike,
    side: ArrayLike = 0.0,
    top: ArrayLike = 0.0,
    bottom: ArrayLike = 0.0,
) -> Body:
    """Return a cylinder of rings, such as a jar with its wall.

    Parameters
    ----------
    r_edges : array_like, shape (a + 1,)
        Edges from the axis or a bore outward [m].
    z_edges : array_like, shape (b + 1,)
        Edges from the bottom up [m].
    conductivity : array_like, scalar or shape (a, b)
        Thermal conductivity of each cell [W/mK].
    volumetric_heat : array_like, scalar or shape (a, b)
        Density times specific heat of each cell [J/m3K].
    side : array_like, scalar or shape (b,)
        Heat transfer coefficient at the side; zero is a perfect insulation [W/m2K].
    top : array_like, scalar or shape (a,)
        The same at the top [W/m2K].
    bottom : array_like, scalar or shape (a,)
        The same at the bottom [W/m2K].

    Returns
    -------
    Body
        Cells in the order (r, z), with the faces side, bottom and top [J/K, W/K].

    Raises
    ------
    InputError
        If a shape does not fit, or a size or property is not above zero.

    Notes
    -----
    V = pi (r_2^2 - r_1^2) (z_2 - z_1); a face at r has the area 2 pi r (z_2 - z_1). Cells of
    second order; for heat that is the same all around the axis.

    References
    ----------
    patankar_1980
        Control volumes in cylindrical coordinates.

    Examples
    --------
    >>> import numpy as np
    >>> jar = cylinder_body(np.linspace(0, 0.035, 11), np.linspace(0, 0.09, 11),
    ...     conductivity=0.55, volumetric_heat=3.9e6, side=10.0, top=10.0, bottom=10.0)
    >>> round(float(jar.capacity.sum()))
    1351
    """
    r, z = edges_of("r", r_edges, least=0.0), edges_of("z", z_edges)
    height, ring = np.diff(z)[None, :], np.pi * np.diff(r**2)[:, None]
    across, up = np.diff(r)[:, None] / 2, height / 2
    inner, outer = 2 * np.pi * r[:-1, None] * height, 2 * np.pi * r[1:, None] * height
    radial = Axis("r", r, inner / across, outer / across, inner, outer, "", "side")
    upright = Axis("z", z, ring / up, ring / up, ring, ring, "bottom", "top")
    return body_of(
        (radial, upright),
        ring * height,
        conductivity,
        volumetric_heat,
        {"side": side, "bottom": bottom, "top": top},
    )


def box_body(
    x_edges: ArrayLike,
    y_edges: ArrayLike,
    z_edges: ArrayLike,
    *,
    conductivity: ArrayLike,
    volumetric_heat: ArrayLike,
    coefficients: Mapping[str, ArrayLike],
) -> Body:
    """Return a box of bricks; a face without coefficient is insulated or a plane of symmetry.

    Parameters
    ----------
    x_edges : array_like, shape (a + 1,)
        Edges from left to right [m].
    y_edges : array_like, shape (b + 1,)
        Edges from front to back [m].
    z_edges : array_like, shape (c + 1,)
        Edges from the bottom up [m].
    conductivity : array_like, scalar or shape (a, b, c)
        Thermal conductivity of each cell [W/mK].
    volumetric_heat : array_like, scalar or shape (a, b, c)
        Density times specific heat of each cell [J/m3K].
    coefficients : mapping of str to array_like
        Heat transfer coefficient at left, right, front, back, bottom and top, scalar or by cell
        of the face; zero where none is given [W/m2K].

    Returns
    -------
    Body
        Cells in the order (x, y, z), with six faces [J/K, W/K].

    Raises
    ------
    InputError
        If a shape does not fit, or a size or property is not above zero.

    Notes
    -----
    V = (x_2 - x_1) (y_2 - y_1) (z_2 - z_1). A slab is a box of one cell in two directions. Cells
    of second order; for any mix of materials.

    References
    ----------
    patankar_1980
        Control volumes in Cartesian coordinates.

    Examples
    --------
    >>> slab = box_body([0, 1], [0, 1], [0, 0.01, 0.02], conductivity=0.5,
    ...     volumetric_heat=4e6, coefficients={"top": 8.0})
    >>> slab.shape, slab.faces[-1]
    ((1, 1, 2), 'top')
    """
    x, y, z = edges_of("x", x_edges), edges_of("y", y_edges), edges_of("z", z_edges)
    a, b, c = np.diff(x)[:, None, None], np.diff(y)[None, :, None], np.diff(z)[None, None, :]
    axes = (
        Axis("x", x, 2 * b * c / a, 2 * b * c / a, b * c, b * c, "left", "right"),
        Axis("y", y, 2 * a * c / b, 2 * a * c / b, a * c, a * c, "front", "back"),
        Axis("z", z, 2 * a * b / c, 2 * a * b / c, a * b, a * b, "bottom", "top"),
    )
    insulated = dict.fromkeys(("left", "right", "front", "back", "bottom", "top"), 0.0)
    unknown = set(coefficients) - set(insulated)
    if unknown:
        raise InputError(f"A box has no face called {', '.join(sorted(unknown))}.")
    return body_of(axes, a * b * c, conductivity, volumetric_heat, {**insulated, **coefficients})


def ball_body(
    r_edges: ArrayLike,
    *,
    conductivity: ArrayLike,
    volumetric_heat: ArrayLike,
    surface: ArrayLike = 0.0,
) -> Body:
    """Return a ball of shells.

    Parameters
    ----------
    r_edges : array_like, shape (a + 1,)
        Edges from the center or a hollow outward [m].
    conductivity : array_like, scalar or shape (a,)
        Thermal conductivity of each shell [W/mK].
    volumetric_heat : array_like, scalar or shape (a,)
        Density times specific heat of each shell [J/m3K].
    surface : array_like, scalar
        Heat transfer coefficient at the surface [W/m2K].

    Returns
    -------
    Body
        Cells from the center out, with the face surface [J/K, W/K].

    Raises
    ------
    InputError
        If a shape does not fit, or a size or property is not above zero.

    Notes
    -----
    V = 4/3 pi (r_2^3 - r_1^3); a face at r has the area 4 pi r^2. Cells of second order; for heat
    that is the same in all directions.

    References
    ----------
    patankar_1980
        Control volumes between concentric shells.

    Examples
    --------
    >>> ball = ball_body([0, 0.01, 0.02], conductivity=0.5, volumetric_heat=4e6, surface=8.0)
    >>> ball.capacity.round(1)
    array([ 16.8, 117.3])
    """
    r = edges_of("r", r_edges, least=0.0)
    area, across = 4 * np.pi * r**2, np.diff(r) / 2
    axis = Axis("r", r, area[:-1] / across, area[1:] / across, area[:-1], area[1:], "", "surface")
    return body_of(
        (axis,), 4 / 3 * np.pi * np.diff(r**3), conductivity, volumetric_heat, {"surface": surface}
    )


def hemisphere_body(
    r_edges: ArrayLike,
    theta_edges: ArrayLike,
    *,
    conductivity: ArrayLike,
    volumetric_heat: ArrayLike,
    dome: ArrayLike = 0.0,
    flat: ArrayLike = 0.0,
) -> Body:
    """Return half a ball: its axis is at the angle zero, its flat face at a right angle.

    Parameters
    ----------
    r_edges : array_like, shape (a + 1,)
        Edges from the center of the flat face outward [m].
    theta_edges : array_like, shape (b + 1,)
        Edges of the angle from the axis, from zero to a right angle [rad].
    conductivity : array_like, scalar or shape (a, b)
        Thermal conductivity of each cell [W/mK].
    volumetric_heat : array_like, scalar or shape (a, b)
        Density times specific heat of each cell [J/m3K].
    dome : array_like, scalar or shape (b,)
        Heat transfer coefficient at the round face [W/m2K].
    flat : array_like, scalar or shape (a,)
        Heat transfer coefficient at the flat face; zero is insulated [W/m2K].

    Returns
    -------
    Body
        Cells in the order (r, theta), with the faces dome and flat [J/K, W/K].

    Raises
    ------
    InputError
        If a shape does not fit, or a size or property is not above zero.

    Notes
    -----
    V = 2/3 pi (r_2^3 - r_1^3) (cos theta_1 - cos theta_2); between two angles heat passes the cone
    2 pi sin(theta) (r_2 - r_1) / (theta_2 - theta_1). For angles up to a right one, which makes
    the last face flat.

    References
    ----------
    patankar_1980
        Control volumes in spherical coordinates.

    Examples
    --------
    >>> import numpy as np
    >>> half = hemisphere_body(np.linspace(0, 0.03, 7), np.linspace(0, np.pi / 2, 5),
    ...     conductivity=0.55, volumetric_heat=3.9e6, dome=8.0, flat=8.0)
    >>> round(float(half.volume.sum()) * 1e6, 2)
    56.55
    """
    r, theta = edges_of("r", r_edges, least=0.0), edges_of("theta", theta_edges, least=0.0)
    cap = 2 * np.pi * -np.diff(np.cos(theta))[None, :]
    across, turn = np.diff(r)[:, None] / 2, np.diff(theta)[None, :] / 2
    inner, outer = r[:-1, None] ** 2 * cap, r[1:, None] ** 2 * cap
    cone = 2 * np.pi * np.sin(theta)[None, :] * np.diff(r)[:, None]
    disk = np.pi * np.sin(theta)[None, :] * np.diff(r**2)[:, None]
    axes = (
        Axis("r", r, inner / across, outer / across, inner, outer, "", "dome"),
        Axis(
            "theta", theta, cone[:, :-1] / turn, cone[:, 1:] / turn, disk[:, :-1], disk[:, 1:],
            "", "flat",
        ),
    )  # fmt: skip
    return body_of(
        axes,
        np.diff(r**3)[:, None] / 3 * cap,
        conductivity,
        volumetric_heat,
        {"dome": dome, "flat": flat},
    )
