"""Molds that freeze: the plateau while water turns to ice, cell by cell."""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from setwell.domain.equipment import MoldShape
from setwell.engine.heat.cooling_cases import food_of
from setwell.engine.heat.cooling_setup import CoolingSetup
from setwell.engine.heat.food_parts import food_parts
from setwell.engine.heat.frozen_food import frozen_food
from setwell.engine.heat.mold_body import face_areas, face_resistances
from setwell.engine.rules.bench import Bench
from setwell.science.heat.ambient import Ambient, ambient_make
from setwell.science.heat.body import (
    Body,
    ball_body,
    box_body,
    cylinder_body,
    hemisphere_body,
)
from setwell.science.heat.grid import Place
from setwell.science.heat.marching import HeatCurve, Laws, march_body

Array = NDArray[np.float64]

# Air this far below the freezing point freezes a mold [K].
FREEZES_K = 3.0
# What the heat of freezing and the ice may be off by, beside what the cooling is (our judgment).
_SPREAD = 1.15
# The march starts anew at each bend of the air.
_BENDS = 9
# Cells: ice asks for small ones no more than for a quick answer.
_ROUND, _HALF, _BALL = (8, 10), (9, 5), 16
# Across half a box, where it is long and where not, and up.
_FLAT, _ACROSS, _UP = 2, 4, 9
_COLDEST_C, _HOTTEST_C = -45.0, 110.0
_POINTS, _TOLERANCE = 240, 0.2


@dataclass(frozen=True, slots=True)
class FrozenRun:
    """Core and skin of a mold that freezes [°C]."""

    seconds: Array
    core: Array
    surface: Array


@dataclass(frozen=True, slots=True)
class _Ice:
    """Heat [J/m3] and conductivity [W/mK] of a food over rising temperatures [°C]."""

    celsius: Array
    heat: Array
    conductivity: Array
    freezing_c: float

    def to_freeze(self, air_c: float) -> float:
        """Return the heat between the freezing point and the air [J/m3]."""
        return float(-np.interp(air_c, self.celsius, self.heat))


def freezes(setup: CoolingSetup) -> bool:
    """True where the cold place turns the water of the food to ice."""
    freezing = setup.stuff.freezing_c
    return freezing is not None and setup.final_air_c < freezing - FREEZES_K


def freezing_run(bench: Bench, setup: CoolingSetup, row: int = 0) -> FrozenRun:
    """Return the middle case of a mold that freezes; for `freezes(setup)` only."""
    ice = _ice(bench, setup, row)
    body, core, skin = _cells(setup)
    everywhere = np.ones(body.size, dtype=np.bool_)
    seconds = _seconds(setup, ice)
    run = march_body(
        body,
        setup.start_c,
        surroundings=_air(setup),
        seconds=seconds,
        probes=[*core, skin],
        laws=Laws(
            coefficient=lambda face, surface, air: _passed(setup, face, surface, air),
            conductivity=lambda cells: _conductivity(ice, cells),
            curves=(HeatCurve(everywhere, ice.celsius, ice.heat),),
        ),
        tolerance=_TOLERANCE,
    )
    return FrozenRun(seconds, run.readings[:, :-1].max(axis=1), run.readings[:, -1])


def stretched(run: FrozenRun, celsius: Array, factor: float, freezing_c: float) -> Array:
    """Return a course of a slower (above 1) or quicker case at the same times.

    Down to the freezing point the time goes by the factor, past it by that of the ice as well.
    """
    warm = run.core > freezing_c
    until = float(run.seconds[warm][-1]) if warm.any() else 0.0
    away = math.copysign(math.hypot(math.log(factor), math.log(_SPREAD)), math.log(factor))
    later = np.maximum(run.seconds - until, 0.0) * math.exp(away)
    moved = np.minimum(run.seconds, until) * factor + later
    return np.asarray(np.interp(run.seconds, moved, celsius))


def _ice(bench: Bench, setup: CoolingSetup, row: int) -> _Ice:
    stuff = setup.stuff
    freezing = -0.01 if stuff.freezing_c is None else min(stuff.freezing_c, -0.01)
    # Most of the ice forms just below the freezing point.
    below = freezing - (freezing - _COLDEST_C) * np.linspace(1.0, 0.0, 40)[:-1] ** 3
    parts = np.repeat(food_parts(bench.state.composition).middle[row][None], len(below), axis=0)
    frozen = frozen_food(parts, below, np.full(len(below), freezing))
    warm = stuff.density * stuff.heat_capacity * (_HOTTEST_C - freezing)
    heat = np.concatenate([-stuff.density * frozen.heat.value, [0.0, warm]])
    unfrozen = stuff.conductivity
    return _Ice(
        celsius=np.concatenate([below, [freezing, _HOTTEST_C]]),
        heat=np.asarray(np.maximum.accumulate(heat + np.arange(len(heat)) * 1e-6)),
        conductivity=np.concatenate(
            [np.maximum(frozen.conductivity.value, unfrozen), [unfrozen, unfrozen]]
        ),
        freezing_c=freezing,
    )


def _seconds(setup: CoolingSetup, ice: _Ice) -> Array:
    """Return times to beyond the end of freezing, by the estimate for one face after another."""
    mold, air = setup.mold, setup.final_air_c
    usual = setup.cold.usual(10.0)
    areas = face_areas(mold)
    walls = face_resistances(mold, setup.wall)
    passed = sum(area / (1.0 / usual[name] + walls[name]) for name, area in areas.items())
    sides = mold.surface * mold.half_thickness / mold.volume
    inside = mold.half_thickness**2 / (2.0 * sides * float(ice.conductivity[:20].mean()))
    per_volume = mold.volume / passed + inside
    frozen = ice.to_freeze(air) / (ice.freezing_c - air) * per_volume
    cooled = food_of(setup.stuff).capacity * per_volume * 4.0
    # Long enough for the slow case too.
    span = 2.2 * frozen + cooled
    return np.asarray(setup.begins[-1] + span * np.linspace(0.0, 1.0, _POINTS + 1) ** 1.5)


def _air(setup: CoolingSetup) -> Ambient:
    """Return the air as a line, with a jump where the molds go in."""
    moved = setup.begins[-1]
    cold = ambient_make(setup.cold.cooler.air_c)
    if setup.air is not None:
        begin, end = float(setup.air.seconds[0]), float(setup.air.seconds[-1])
        at = begin + (end - begin) * np.linspace(0.0, 1.0, _BENDS) ** 2
        cold = ambient_make((moved + at, np.interp(at, setup.air.seconds, setup.air.celsius)))
    if len(setup.places) == 1:
        return cold
    room = setup.places[0].cooler.air_c
    begins, levels = np.maximum(cold.seconds, moved), cold.kelvin
    return ambient_make(
        (np.concatenate([[0.0, moved], begins]), np.concatenate([[room, room], levels]))
    )


# The faces of the cells under the names of a mold.
_NAMES = {
    "side": "side", "top": "top", "bottom": "base", "right": "side", "back": "side",
    "surface": "side", "dome": "side", "flat": "top",
}  # fmt: skip


def _passed(setup: CoolingSetup, face: str, surface: Array, air: float) -> float:
    """Return what a face passes; thin walls and covers are folded in."""
    name = _NAMES[face]
    bare = setup.cold.passed(name, float(np.mean(surface)) - air)
    return 1.0 / (1.0 / bare + face_resistances(setup.mold, setup.wall)[name])


def _conductivity(ice: _Ice, cells: Array) -> Array:
    return np.asarray(np.interp(cells, ice.celsius, ice.conductivity))


def _cells(setup: CoolingSetup) -> tuple[Body, list[Place], Place]:
    """Return the cells of the food alone, places among which the slowest is, and its skin."""
    mold, radius, high = setup.mold, setup.mold.radius, setup.mold.height
    k, heat = setup.stuff.conductivity, setup.stuff.density * setup.stuff.heat_capacity
    across = np.linspace(0.0, radius, _ROUND[0] + 1)
    if mold.shape is MoldShape.SPHERE:
        shells = np.linspace(0.0, radius, _BALL + 1)
        ball = ball_body(shells, conductivity=k, volumetric_heat=heat, surface=1.0)
        return ball, [(0.0,)], (radius,)
    if mold.shape is MoldShape.HEMISPHERE:
        turn = np.linspace(0.0, np.pi / 2.0, _HALF[1] + 1)
        half = hemisphere_body(
            across, turn, conductivity=k, volumetric_heat=heat, dome=1.0, flat=1.0
        )
        axis: list[Place] = [(float(r), 0.0) for r in (across[1:] + across[:-1]) / 2.0]
        return half, axis, (radius, 0.0)
    if mold.is_box:
        x, y = (
            np.linspace(0.0, long / 2.0, (_FLAT if long > 4.0 * high else _ACROSS) + 1)
            for long in mold.lengths
        )
        z = np.linspace(0.0, high, _UP + 1)
        faces = dict.fromkeys(("right", "back", "top", "bottom"), 1.0)
        box = box_body(x, y, z, conductivity=k, volumetric_heat=heat, coefficients=faces)
        middle: list[Place] = [(0.0, 0.0, float(at)) for at in (z[1:] + z[:-1]) / 2.0]
        return box, middle, (0.0, radius, high / 2.0)
    z = np.linspace(0.0, high, _ROUND[1] + 1)
    round_one = cylinder_body(
        across, z, conductivity=k, volumetric_heat=heat, side=1.0, top=1.0, bottom=1.0
    )
    upright: list[Place] = [(0.0, float(at)) for at in (z[1:] + z[:-1]) / 2.0]
    return round_one, upright, (radius, high / 2.0)
