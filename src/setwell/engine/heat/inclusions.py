"""A cold or frozen piece in the middle of a mold: what it does to the cooling and the set."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from setwell.domain.process_plan import CoolPlan
from setwell.engine.heat.cooling_cases import food_of
from setwell.engine.heat.cooling_setup import CoolingSetup, cooling_setup
from setwell.engine.heat.course import Course
from setwell.engine.heat.mold_body import face_areas
from setwell.engine.heat.passing_times import passed_s
from setwell.engine.heat.setting_levels import setting_levels
from setwell.engine.rules.bench import PRACTICE, Bench
from setwell.errors import InputError
from setwell.provenance import Estimate
from setwell.science.heat.body import ball_body
from setwell.science.heat.freezing import enthalpy_chen_1985
from setwell.science.heat.krylov import cool_body
from setwell.science.heat.marching import HeatCurve, Laws, march_body
from setwell.units import temperature_print, time_print

Array = NDArray[np.float64]

# A berry: water, what of it never freezes, where ice begins, density and conductivity (our
# judgment for watery fruit, of the order of handbook figures).
_WATER, _BOUND, _FREEZES_C, _DENSITY, _CONDUCTIVITY = 0.87, 0.01, -0.9, 1000.0, 0.55
_COLDEST_C = -40.0
_PIECE_CELLS, _FOOD_CELLS = 14, 40
# Cells of the food grow outward by this power.
_GROWTH = 1.3
# The shell of gel around a piece is read until this time at most [s].
_SHELL_S = 900.0
_MODEL = "a piece in the middle of a ball with the volume and the surface of the mold"


@dataclass(frozen=True, slots=True)
class InclusionResult:
    """A mold with and without a piece in its middle.

    `core` is the warmest place with the piece, `plain` without; `sooner_min` how much earlier it
    is at the setting temperature (at 21 °C where nothing sets); `shell_mm` the gel that forms
    around the piece while the rest is still hot.
    """

    core: Course
    plain: Course
    sooner_min: Estimate | None
    shell_mm: Estimate
    text: str


def with_inclusion(
    bench: Bench, plan: CoolPlan, *, piece_mm: float, piece_c: float, row: int = 0
) -> InclusionResult:
    """Return what a piece of fruit of this width and temperature does in the middle of a mold.

    Raises InputError for a piece that does not fit, or hotter than the pour.
    """
    setup = cooling_setup(bench, plan, row=row)
    radius = (3.0 * setup.mold.volume / (4.0 * np.pi)) ** (1.0 / 3.0)
    piece = piece_mm / 2000.0
    _check(setup, piece_mm, piece_c)
    seconds = setup.seconds()
    levels = setting_levels(bench, row)
    sets = levels[0].celsius.value if levels else 21.0
    cold = _march(setup, radius, piece, piece_c, seconds)
    plain = _march(setup, radius, piece, setup.start_c, seconds)
    core = cold.max(axis=1)
    alone = plain.max(axis=1)
    shell = _shell(cold, radius, piece, seconds, sets)
    sooner = _sooner(seconds, alone, core, sets)
    return InclusionResult(
        core=_course(setup, "core with the piece", seconds, core),
        plain=_course(setup, "core without it", seconds, alone),
        sooner_min=sooner,
        shell_mm=Estimate(shell, "mm", 0.5 * shell, 1.5 * shell, _MODEL, PRACTICE),
        text=_text(sooner, shell, sets, piece_c, has_set=bool(levels)),
    )


def _check(setup: CoolingSetup, piece_mm: float, piece_c: float) -> None:
    room = 2000.0 * setup.mold.half_thickness
    if not 1.0 <= piece_mm < 0.9 * room:
        raise InputError(
            f"A piece of {piece_mm:g} mm does not fit a mold that is {room:.3g} mm across.",
            field="piece_mm",
            hint=f"Pieces of 1 to {0.9 * room:.0f} mm can be computed.",
        )
    if not _COLDEST_C <= piece_c <= setup.start_c:
        raise InputError(
            f"The piece is at {piece_c:g} °C; it is computed from {_COLDEST_C:g} °C up to the "
            f"pour, {setup.start_c:g} °C.",
            field="piece_c",
            hint="Frozen fruit is at -18 °C (0 °F), fruit from the fridge at 4 °C (39 °F).",
        )


def _march(
    setup: CoolingSetup, radius: float, piece: float, piece_c: float, seconds: Array
) -> Array:
    """Return all cells over time, from the middle out, (p, m)."""
    food = food_of(setup.stuff)
    edges = np.append(np.linspace(0.0, piece, _PIECE_CELLS + 1), _food_edges(radius, piece)[1:])
    is_piece = np.arange(len(edges) - 1) < _PIECE_CELLS
    body = ball_body(
        edges,
        conductivity=np.where(is_piece, _CONDUCTIVITY, food.conductivity),
        volumetric_heat=food.capacity,
        surface=_ball_coefficient(setup, radius),
    )
    start = np.where(is_piece, piece_c, setup.start_c)
    air, places = setup.cold.cooler.air_c, [(float(r),) for r in (edges[1:] + edges[:-1]) / 2.0]
    if piece_c >= _FREEZES_C:
        return cool_body(body, start, surroundings=air, seconds=seconds, probes=places)
    run = march_body(
        body,
        start,
        surroundings=air,
        seconds=seconds,
        probes=places,
        laws=Laws(curves=(_thawing(is_piece),)),
        tolerance=0.05,
    )
    return np.asarray(run.readings)


def _food_edges(radius: float, piece: float) -> Array:
    """Return edges of the cells of the food, finest at the piece."""
    return np.asarray(piece + (radius - piece) * np.linspace(0.0, 1.0, _FOOD_CELLS + 1) ** _GROWTH)


def _ball_coefficient(setup: CoolingSetup, radius: float) -> float:
    """Return the coefficient at which the ball loses as much as all faces of the mold."""
    usual, areas = setup.usual, face_areas(setup.mold)
    passed = sum(area * usual[name] for name, area in areas.items())
    return passed / (4.0 * np.pi * radius**2)


def _thawing(cells: NDArray[np.bool_]) -> HeatCurve:
    """Return the heat in a piece of fruit from deep frozen up."""
    celsius = np.concatenate(
        [np.linspace(_COLDEST_C, -6.0, 18), np.linspace(-5.5, _FREEZES_C, 30), [0.0, 50.0, 100.0]]
    )
    heat = enthalpy_chen_1985(
        celsius, water_share=_WATER, bound_water=_BOUND, freezing_point=_FREEZES_C
    )
    return HeatCurve(cells, celsius, np.asarray(heat) * _DENSITY)


def _shell(cells: Array, radius: float, piece: float, seconds: Array, sets: float) -> float:
    """Return how thick a shell around the piece sets while the rest is hot [mm]."""
    edges = _food_edges(radius, piece)
    middle = (edges[1:] + edges[:-1]) / 2.0
    food = cells[:, _PIECE_CELLS:]
    early = (seconds <= _SHELL_S) & (food[:, _FOOD_CELLS // 2] > sets)
    if not early.any():
        return 0.0
    found = 0.0
    for line in food[early]:
        warm = np.flatnonzero(line > sets)
        if len(warm) and warm[0] > 0:
            found = max(found, float(middle[warm[0] - 1] - piece))
    return 1000.0 * found


def _sooner(seconds: Array, alone: Array, core: Array, level: float) -> Estimate | None:
    before, after = passed_s(seconds, alone, level), passed_s(seconds, core, level)
    if before is None or after is None:
        return None
    value = (before - after) / 60.0
    ends = sorted((0.7 * value, 1.3 * value))
    return Estimate(value, "min", ends[0], ends[1], _MODEL, PRACTICE)


def _course(setup: CoolingSetup, place: str, seconds: Array, celsius: Array) -> Course:
    evidence = setup.evidence
    return Course(place, seconds, celsius, celsius, celsius, model=_MODEL, evidence=evidence)


def _text(
    sooner: Estimate | None, shell: float, sets: float, piece_c: float, *, has_set: bool
) -> str:
    at = temperature_print(round(sets, 1))
    if sooner is None:
        return f"This place does not bring the core down to {at}, with or without the piece."
    less = time_print(max(sooner.value, 1.0))
    text = f"With the piece the core is at {at} about {less} sooner."
    if not has_set or shell < 0.1:
        return text
    cold = "frozen" if piece_c < _FREEZES_C else "cold"
    return (
        f"{text} Around the {cold} piece a shell of about {shell:.1f} mm sets at once, while the "
        "rest is still warm."
    )
