"""The food in its mold as a body that cools: one direction at a time, or a grid with its wall."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from setwell.domain.equipment import MoldShape
from setwell.engine.heat.cells_reduced import cells_reduce
from setwell.engine.heat.directions import (
    BALL,
    ROUND,
    SLAB,
    Direction,
    SmallBody,
    half_direction,
    whole_direction,
)
from setwell.engine.heat.equipment import Wall, wall_of
from setwell.engine.heat.mold_form import MoldGeometry, Scheme
from setwell.errors import InputError
from setwell.science.heat.body import Body, cylinder_body, hemisphere_body

Array = NDArray[np.float64]

# Cells across and up: fine for the middle, coarse for the ends of the range.
FINE, COARSE = (36, 44), (20, 24)
_WALL_CELLS, _GAP_CELLS = 3, 4
# Air under a lid: conduction, and radiation with weak convection per meter of gap (estimate that
# gives 0.1 W/mK for a gap of 10 mm); its heat capacity [J/m3K].
_GAP_STILL, _GAP_PER_M, _AIR_HEAT = 0.026, 7.4, 1.15 * 1006.0
# Around this coefficient the shapes of a grid are sought, and over this many time constants.
_SPAN_CONSTANTS = 4.0


@dataclass(frozen=True, slots=True)
class Food:
    """What is cooled: W/mK and J/m3K."""

    conductivity: float
    capacity: float

    def scaled(self, conductivity: float, capacity: float) -> "Food":
        """Return the food with both properties changed by factors."""
        return Food(self.conductivity * conductivity, self.capacity * capacity)


def mold_wall(mold: MoldGeometry) -> Wall | None:
    """Return the wall of a mold; without a thickness it has the usual one of its material."""
    if mold.wall is None:
        return None
    given = None if mold.wall_thickness is None else mold.wall_thickness * 1000.0
    wall = wall_of(mold.wall, given)
    if wall.thickness_m > mold.half_thickness:
        raise InputError(
            f"The usual wall of {mold.wall.value}, {wall.thickness_m * 1000.0:g} mm, is thicker "
            f"than the food in this mold allows.",
            field="wall_mm",
            hint="Give the thickness of the wall.",
        )
    return wall


def body_of_mold(
    mold: MoldGeometry,
    food: Food,
    *,
    coefficients: dict[str, float],
    cells: tuple[int, int] = FINE,
) -> SmallBody:
    """Return the body of a mold; `coefficients` are usual ones of its faces [W/m2K].

    Faces are `side`, `top` and `base`. A thin wall of a tray, block, ball or half ball is folded
    into what its faces pass, and the heat it holds into that of the food.
    """
    wall = mold_wall(mold)
    if mold.scheme is Scheme.GRID and mold.is_round:
        return _jar(mold, food, wall, coefficients, cells)
    loaded = food if wall is None else food.scaled(1.0, _load(mold, food, wall))
    if mold.shape is MoldShape.HEMISPHERE:
        return _half_ball(mold, loaded, wall, coefficients, cells)
    if mold.shape is MoldShape.SPHERE:
        return _ball(mold, loaded, wall)
    return _product(mold, loaded, wall)


def time_constant(mold: MoldGeometry, food: Food, coefficients: dict[str, float]) -> float:
    """Return about how long the difference to the air takes to fall to a third [s]."""
    passed = sum(area * coefficients[name] for name, area in face_areas(mold).items())
    # 1 for a slab, 2 for a long cylinder, 3 for a ball: from how many sides heat leaves.
    sides = mold.surface * mold.half_thickness / mold.volume
    inside = food.capacity * mold.half_thickness**2 / (2.0 * sides * food.conductivity)
    wall = mold_wall(mold)
    load = 1.0 if wall is None else _load(mold, food, wall)
    return load * food.capacity * mold.volume / max(passed, 1e-9) + inside


def face_areas(mold: MoldGeometry) -> dict[str, float]:
    """Return the area of the faces of the food [m2]."""
    long, wide = mold.lengths
    if mold.shape is MoldShape.SPHERE:
        return {"side": mold.surface}
    if mold.shape is MoldShape.HEMISPHERE:
        return {"side": mold.surface * 2.0 / 3.0, "top": mold.surface / 3.0}
    ground = long * wide if mold.is_box else math.pi * mold.radius**2
    return {"side": mold.surface - 2.0 * ground, "top": ground, "base": ground}


def _load(mold: MoldGeometry, food: Food, wall: Wall) -> float:
    """Return by how much the wall raises the heat the food holds: it cools along with it."""
    areas = face_areas(mold)
    touched = sum(areas.values()) - (areas.get("top", 0.0) if mold.is_open else 0.0)
    return 1.0 + touched * wall.heat_per_area / (food.capacity * mold.volume)


def _product(mold: MoldGeometry, food: Food, wall: Wall | None) -> SmallBody:
    """Return a box or a bare cylinder as the product of its directions."""
    k, c = food.conductivity, food.capacity
    upright = whole_direction(mold.height, faces=("base", "top"), conductivity=k, capacity=c)
    if mold.is_box:
        around = tuple(
            half_direction(length / 2.0, face="side", weight=SLAB, conductivity=k, capacity=c)
            for length in sorted(mold.lengths, reverse=True)
        )
    else:
        around = (
            half_direction(mold.radius, face="side", weight=ROUND, conductivity=k, capacity=c),
        )
    return _multiplied(around, upright, face_resistances(mold, wall))


def _multiplied(
    around: tuple[Direction, ...], upright: Direction, resistances: dict[str, float]
) -> SmallBody:
    """Return the rows that read a product of directions; the last one stands upright."""
    middles = tuple(one.middle for one in around)
    means = tuple(one.mean for one in around)
    # The shorter way across, given last, has the colder skin halfway up.
    skin = (*middles[:-1], around[-1].ends["side"], upright.middle)
    return SmallBody(
        directions=(*around, upright),
        core=(*middles, upright.scan),
        surface=skin,
        faces={
            "side": (*means[:-1], around[-1].ends["side"], upright.mean),
            "top": (*means, upright.ends["top"]),
            "base": (*means, upright.ends["base"]),
        },
        mean=(*means, upright.mean),
        resistances=resistances,
    )


def _ball(mold: MoldGeometry, food: Food, wall: Wall | None) -> SmallBody:
    one = half_direction(
        mold.radius, face="side", weight=BALL,
        conductivity=food.conductivity, capacity=food.capacity,
    )  # fmt: skip
    ends = (one.ends["side"],)
    return SmallBody(
        (one,), (one.middle,), ends, {"side": ends}, (one.mean,), face_resistances(mold, wall)
    )


def face_resistances(mold: MoldGeometry, wall: Wall | None) -> dict[str, float]:
    """Return what lies between each face of the food and the air where walls have no cells.

    In m2K/W. Above, that is the air under a lid; a block is closed all around by its own wall.
    """
    around = 0.0 if wall is None else wall.resistance
    gap = mold.headspace if mold.lid else 0.0
    cover = gap / _gap_conductivity(gap) if gap > 0 else 0.0
    above = around if mold.shape is MoldShape.BLOCK else cover
    return {name: above if name == "top" else around for name in face_areas(mold)}


def _gap_conductivity(gap: float) -> float:
    return _GAP_STILL + _GAP_PER_M * gap


def _half_ball(
    mold: MoldGeometry,
    food: Food,
    wall: Wall | None,
    coefficients: dict[str, float],
    cells: tuple[int, int],
) -> SmallBody:
    """Return half a ball with its flat face up."""
    across, around = cells[0], cells[0] * 2 // 3
    body = hemisphere_body(
        np.linspace(0.0, mold.radius, across + 1),
        np.linspace(0.0, np.pi / 2.0, around + 1),
        conductivity=food.conductivity,
        volumetric_heat=food.capacity,
        dome=coefficients["side"],
        flat=coefficients["top"],
    )
    small = cells_reduce(
        body,
        coefficients={"dome": coefficients["side"], "flat": coefficients["top"]},
        span=_SPAN_CONSTANTS * time_constant(mold, food, coefficients),
        core=np.arange(across) * around,
        surface=body.probe(mold.radius * (1 - 1e-9), 0.0).cells,
    )
    return _renamed(small, {"dome": "side", "flat": "top"}, face_resistances(mold, wall))


def _renamed(small: SmallBody, names: dict[str, str], walls: dict[str, float]) -> SmallBody:
    """Return a body whose faces go by the names of a mold, with thin walls added."""
    (one,) = small.directions
    direction = Direction(
        one.conduction,
        {names[key]: face for key, face in one.faces.items()},
        one.start,
        one.middle,
        one.mean,
        one.scan,
        {names[key]: row for key, row in one.ends.items()},
    )
    return SmallBody(
        (direction,),
        small.core,
        small.surface,
        {names[key]: rows for key, rows in small.faces.items()},
        small.mean,
        {
            names[key]: between + walls.get(names[key], 0.0)
            for key, between in small.resistances.items()
        },
    )


def _jar(
    mold: MoldGeometry,
    food: Food,
    wall: Wall | None,
    coefficients: dict[str, float],
    cells: tuple[int, int],
) -> SmallBody:
    """Return a cup or jar with its wall, and with its headspace where it has a lid."""
    grid = jar_cells(mold, food, wall, cells)
    names = {"side": "side", "top": "top", "bottom": "base"}
    z = grid.axes[1].centers
    inside = np.flatnonzero((z > 0.0) & (z < mold.height))
    small = cells_reduce(
        grid,
        coefficients={face: coefficients[name] for face, name in names.items()},
        span=_SPAN_CONSTANTS * time_constant(mold, food, coefficients),
        core=inside,
        surface=grid.probe(mold.radius * (1 - 1e-9), mold.height / 2.0).cells,
    )
    return _renamed(small, names, {})


def jar_cells(mold: MoldGeometry, food: Food, wall: Wall | None, cells: tuple[int, int]) -> Body:
    """Return the cells of a cup or jar; heights count from the base of the food."""
    gap = mold.headspace if mold.lid else 0.0
    thick = 0.0 if wall is None else wall.thickness_m
    r, z = np.linspace(0.0, mold.radius, cells[0] + 1), np.linspace(0.0, mold.height, cells[1] + 1)
    if wall is not None:
        r = np.append(r, mold.radius + thick * np.arange(1, _WALL_CELLS + 1) / _WALL_CELLS)
        z = np.append(-thick * np.arange(_WALL_CELLS, 0, -1) / _WALL_CELLS, z)
    if gap > 0:
        z = np.append(z, mold.height + gap * np.arange(1, _GAP_CELLS + 1) / _GAP_CELLS)
    across, up = (r[1:] + r[:-1]) / 2.0, (z[1:] + z[:-1]) / 2.0
    k = np.full((len(across), len(up)), food.conductivity)
    heat = np.full_like(k, food.capacity)
    above = np.broadcast_to(up > mold.height, k.shape)
    k[above], heat[above] = _gap_conductivity(gap), _AIR_HEAT
    if wall is not None:
        shell = (across > mold.radius)[:, None] | (up < 0.0)[None, :]
        k[shell], heat[shell] = wall.conductivity.value, wall.density * wall.heat_capacity
    return cylinder_body(r, z, conductivity=k, volumetric_heat=heat, side=1.0, top=1.0, bottom=1.0)
