"""What one thing does to the times: the same mold at ten values of it."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray
from pydantic import ValidationError

from setwell.domain.document import document_error
from setwell.domain.equipment import MoldForm, MoldShape
from setwell.domain.process_plan import CoolPlan
from setwell.engine.heat.cooling_moments import COLD_C, WARM_C
from setwell.engine.heat.cooling_setup import CoolingSetup, cooling_setup, setup_of_food
from setwell.engine.heat.mold_body import COARSE
from setwell.engine.heat.mold_form import mold_geometry
from setwell.engine.heat.passing_times import passed_s
from setwell.engine.heat.pour_temperature import PourTemperature
from setwell.engine.heat.setting_levels import setting_levels
from setwell.engine.rules.bench import Bench
from setwell.errors import InputError

Array = NDArray[np.float64]

POINTS = 10
_MOST_POINTS = 30
# Stretches of one surface coefficient: times within 0.5 % of the full course.
_STRETCHES = 10


class Swept(StrEnum):
    """Things that can be changed one at a time."""

    COEFFICIENT = "surface coefficient"
    AIR = "air temperature"
    POUR = "pouring temperature"
    HEIGHT = "height"
    WIDTH = "width"
    WALL = "wall thickness"


UNITS: dict[Swept, str] = {
    Swept.COEFFICIENT: "W/m2K",
    Swept.AIR: "°C",
    Swept.POUR: "°C",
    Swept.HEIGHT: "mm",
    Swept.WIDTH: "mm",
    Swept.WALL: "mm",
}


@dataclass(frozen=True, slots=True)
class SweepPoint:
    """The times at one value, of the middle case [min]; None = not within the time shown."""

    value: float
    sets_min: float | None
    warm_min: float | None
    cold_min: float | None


@dataclass(frozen=True, slots=True)
class Sweep:
    """The points of one thing, and where the plan itself stands."""

    thing: Swept
    unit: str
    now: float | None
    points: tuple[SweepPoint, ...]


def sweep(
    bench: Bench,
    plan: CoolPlan,
    thing: Swept,
    values: Sequence[float] | None = None,
    *,
    row: int = 0,
) -> Sweep:
    """Return the times to set, to 21 °C and to 5 °C at several values of one thing.

    Raises InputError when the mold does not have it, or for more than 30 values.
    """
    base = cooling_setup(bench, plan, row=row)
    now, usual = _usual(base, plan, thing)
    chosen = usual if values is None else np.asarray(values, dtype=np.float64)
    if not 1 <= len(chosen) <= _MOST_POINTS:
        raise InputError(
            f"A sweep takes 1 to {_MOST_POINTS} values; there are {len(chosen)}.", field="values"
        )
    levels = setting_levels(bench, row)
    sets = levels[0].celsius.value if levels else None
    points = []
    for value in chosen.tolist():
        try:
            points.append(_point(_changed(base, plan, thing, value), value, sets))
        except InputError:
            # Of values nobody typed, those that no mold has are left out.
            if values is not None:
                raise
    return Sweep(thing, UNITS[thing], now, tuple(points))


def things_of(plan: CoolPlan) -> tuple[Swept, ...]:
    """Return what can be changed of a plan."""
    shape = plan.mold.shape
    found = [Swept.COEFFICIENT, Swept.AIR, Swept.POUR]
    if shape not in {MoldShape.SPHERE, MoldShape.HEMISPHERE, MoldShape.OTHER}:
        found.append(Swept.HEIGHT)
    if shape is not MoldShape.OTHER:
        found.append(Swept.WIDTH)
    return (*found, Swept.WALL) if plan.mold.wall is not None else tuple(found)


def _usual(base: CoolingSetup, plan: CoolPlan, thing: Swept) -> tuple[float | None, Array]:
    """Return where the plan stands, and ten values around it."""
    if thing not in things_of(plan):
        raise InputError(
            f"The {thing.value} of this mold cannot be changed by itself.",
            field="thing",
            hint=f"Choose one of: {', '.join(one.value for one in things_of(plan))}.",
        )
    mold = base.mold
    ways: dict[Swept, tuple[float | None, Array]] = {
        Swept.COEFFICIENT: (plan.cooler.coefficient_w_m2k, np.geomspace(5.0, 100.0, POINTS)),
        Swept.AIR: (plan.cooler.air_c, plan.cooler.air_c + np.arange(-4.0, 6.0)),
        Swept.POUR: (base.start_c, np.linspace(min(base.start_c, 40.0), 95.0, POINTS)),
        Swept.HEIGHT: _around(1000.0 * mold.height),
        Swept.WIDTH: _around(1000.0 * mold.lengths[1]),
        Swept.WALL: _around(1000.0 * base.wall.thickness_m if base.wall else 1.0),
    }
    return ways[thing]


def _around(value: float) -> tuple[float, Array]:
    return value, value * np.geomspace(0.4, 2.5, POINTS)


def _point(setup: CoolingSetup, value: float, sets: float | None) -> SweepPoint:
    seconds = setup.seconds()
    core = setup.march(seconds, body=setup.body(cells=COARSE), stretches=_STRETCHES).core

    def minutes(level: float | None) -> float | None:
        found = None if level is None else passed_s(seconds, core, level)
        return None if found is None else found / 60.0

    return SweepPoint(value, minutes(sets), minutes(WARM_C), minutes(COLD_C))


def _changed(base: CoolingSetup, plan: CoolPlan, thing: Swept, value: float) -> CoolingSetup:
    """Return the setup with one thing changed; the figures of the food stay."""
    if thing is Swept.POUR:
        return setup_of_food(base.stuff, plan, pour=PourTemperature(value, 0.0, "as given"))
    return setup_of_food(base.stuff, _CHANGES[thing](plan, value), pour=base.pour)


def _with_cooler(plan: CoolPlan, **changes: float | None) -> CoolPlan:
    return plan.model_copy(update={"cooler": plan.cooler.model_copy(update=changes)})


def _with_mold(plan: CoolPlan, **changes: float | None) -> CoolPlan:
    """Return the plan with lengths that count by themselves, whatever the volume said."""
    told = plan.mold.model_dump() | {"volume_ml": None} | changes
    try:
        return plan.model_copy(update={"mold": MoldForm(**told)})
    except ValidationError as error:
        raise document_error(error) from None


def _coefficient(plan: CoolPlan, value: float) -> CoolPlan:
    return _with_cooler(plan, coefficient_w_m2k=value, coefficient_low=None, coefficient_high=None)


def _height(plan: CoolPlan, value: float) -> CoolPlan:
    return _with_mold(plan, height_mm=value)


def _width(plan: CoolPlan, value: float) -> CoolPlan:
    form = plan.mold
    height = form.height_mm
    if height is None and form.shape not in {MoldShape.SPHERE, MoldShape.HEMISPHERE}:
        height = 1000.0 * mold_geometry(form).height
    field = "width_mm" if form.diameter_mm is None else "diameter_mm"
    return _with_mold(plan, **{field: value, "height_mm": height})


def _wall(plan: CoolPlan, value: float) -> CoolPlan:
    return _with_mold(plan, wall_mm=value, height_mm=1000.0 * mold_geometry(plan.mold).height)


_CHANGES: dict[Swept, Callable[[CoolPlan, float], CoolPlan]] = {
    Swept.COEFFICIENT: _coefficient,
    Swept.AIR: lambda plan, value: _with_cooler(plan, air_c=value),
    Swept.HEIGHT: _height,
    Swept.WIDTH: _width,
    Swept.WALL: _wall,
}
