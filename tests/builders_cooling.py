"""Short ways to cool a mold in tests of the engine."""

from collections import defaultdict
from collections.abc import Callable
from functools import cache
from typing import Any

import numpy as np
from builders_engine import formula_of

from setwell.domain.equipment import Cooler, CoolerKind, MoldForm, MoldShape, WallMaterial
from setwell.domain.process_plan import CoolPlan
from setwell.engine.assess import bench_build
from setwell.engine.heat.march import Marched, Passing, Surroundings, march
from setwell.engine.heat.mold_body import FINE, Food, body_of_mold, time_constant
from setwell.engine.heat.mold_form import mold_geometry
from setwell.engine.rules.bench import Bench

HOT_POUR = "Whisk the powder into the liquid\nHeat to 90 °C, hold 2 min\nPour into molds\nChill"
WATERY = Food(0.55, 0.55 / 1.4e-7)
JAR = MoldForm(
    shape=MoldShape.JAR, diameter_mm=70, height_mm=90,
    wall=WallMaterial.GLASS, wall_mm=3, headspace_mm=10, lid=True,
)  # fmt: skip
CUP = MoldForm(shape=MoldShape.CUP, diameter_mm=70, height_mm=50)
TRAY = MoldForm(shape=MoldShape.TRAY, length_mm=300, width_mm=200, height_mm=20)


def air_constant(level_c: float) -> Surroundings:
    """Return air that stays as it is."""
    return Surroundings(np.zeros(1), np.array([level_c]))


@cache
def agar_milk() -> Bench:
    """Return milk set with agar, poured at 90 °C."""
    return bench_build(formula_of("500 g whole milk", "4 g agar", steps=HOT_POUR))


@cache
def gelatin_juice() -> Bench:
    """Return orange juice set with gelatin, poured at 60 °C."""
    steps = "Heat to 60 °C\nPour into molds\nChill 4 h"
    return bench_build(formula_of("500 g orange juice", "50 g sugar", "9 g gelatin", steps=steps))


@cache
def plain_milk() -> Bench:
    """Return warm milk that nothing sets."""
    return bench_build(formula_of("500 g whole milk", steps="Heat to 80 °C"))


def plan_of(mold: MoldForm = CUP, **fields: Any) -> CoolPlan:
    """Return a plan; `kind`, `air_c` and `coefficient` go to the cold place."""
    kind = fields.pop("kind", CoolerKind.FRIDGE)
    told = {"coefficient_w_m2k": fields.pop("coefficient", None)}
    told |= fields.pop("cooler", {})
    cooler = Cooler(name="Fridge", kind=kind, air_c=fields.pop("air_c", 4.0), **told)
    return CoolPlan(mold=mold, cooler=cooler, **fields)


def by_face(given: dict[str, float]) -> Passing:
    """Return coefficients that stay, one for each face."""

    def passing(face: str, surface: float, air: float, begin: float) -> float:
        return given[face]

    return passing


def steady(coefficient: float) -> Passing:
    """Return one coefficient that stays, for all faces."""
    return by_face(defaultdict(lambda: coefficient))


def falling(law: Callable[[float], float]) -> Passing:
    """Return coefficients that follow the difference to the air."""

    def passing(face: str, surface: float, air: float, begin: float) -> float:
        return float(law(surface - air))

    return passing


def core_times(
    form: MoldForm,
    coefficient: float,
    levels: tuple[float, ...],
    *,
    food: Food = WATERY,
    start_c: float = 80.0,
    air_c: float = 2.0,
    cells: tuple[int, int] = FINE,
    **faces: float,
) -> list[float]:
    """Return when the core is at each level [s] under one coefficient for all faces."""
    given = dict.fromkeys(("side", "top", "base"), coefficient) | faces
    mold = mold_geometry(form)
    body = body_of_mold(mold, food, coefficients=given, cells=cells)
    run = march(
        body,
        start_c=start_c,
        air=air_constant(air_c),
        passing=by_face(given),
        seconds=np.linspace(0.0, 7.0 * time_constant(mold, food, given), 4001),
        is_steady=True,
    )
    return [reached(run, level) for level in levels]


def reached(run: Marched, level: float) -> float:
    """Return when a falling core is at a level [s]."""
    return float(np.interp(-level, -run.core, run.seconds))
