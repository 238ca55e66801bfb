"""How cold a portion is some hours after pouring, and what stands by then.

A portion is a cup of water-like food as high as wide, poured hot and put into a still fridge. A
gel stands once its core is below its setting temperature. Gels that set below 30 °C are gelatins:
these go on firming for hours, and count from the shortest stay in the cold of the tables on.
"""

from functools import lru_cache
from math import ceil, pi

import numpy as np

from setwell.engine.gelling.parameters import parameter
from setwell.engine.heat.liquid_water import water_at
from setwell.engine.heat.pour_temperature import HOT_C
from setwell.science.heat.separable import UniformBody, uniform_cylinder
from setwell.tables.heat.surfaces import surface_rows

_FRIDGE_C = 4.0
# The properties of the food are taken midway between pouring and fridge [°C].
_MIDDLE_C = 40.0
# Only gelatins set below this, and they are slow (our judgment) [°C].
SLOW_C = 30.0
_STEP_H = 0.5


def least_setting_c(hours: float, portion_g: float, *, hottest_c: float = 100.0) -> float:
    """Return the lowest setting temperature of a gel that stands so long after pouring [°C]."""
    core = core_c(hours, portion_g, hottest_c=hottest_c)
    return core if hours >= slow_hours() else max(core, SLOW_C)


def hours_to_stand(set_c: float, portion_g: float, *, hottest_c: float = 100.0) -> float:
    """Return after how many hours a gel with this setting temperature stands, in half hours.

    Infinite where the fridge is never cold enough.
    """
    body, point = _cup(portion_g)
    if set_c <= _FRIDGE_C:
        return float("inf")
    start = min(HOT_C, hottest_c)
    seconds = 0.0
    if start > set_c:
        seconds = float(body.time_to(set_c, start=start, surroundings=_FRIDGE_C, point=point))
    hours = seconds / 3600.0
    if set_c < SLOW_C:
        hours = max(hours, slow_hours())
    return max(ceil(hours / _STEP_H) * _STEP_H, _STEP_H)


def core_c(hours: float, portion_g: float, *, hottest_c: float = 100.0) -> float:
    """Return the temperature in the core of a cup so long after pouring [°C]."""
    body, point = _cup(portion_g)
    found = body.temperature(
        np.array([hours * 3600.0]), start=min(HOT_C, hottest_c), surroundings=_FRIDGE_C, point=point
    )
    return float(found[0])


def slow_hours() -> float:
    """Return the shortest stay in the cold after which a gelatin stands [h]."""
    return parameter("gelatin", "maturing_least").value


@lru_cache(maxsize=32)
def _cup(portion_g: float) -> tuple[UniformBody, tuple[float, float]]:
    """Return a cup as high as wide, and the place of its core."""
    water = water_at(_MIDDLE_C)
    conductivity, density = float(water.conductivity), float(water.density)
    radius = (portion_g / 1000.0 / density / (2.0 * pi)) ** (1.0 / 3.0)
    still = surface_rows()["still_fridge"].value or 0.0
    body = uniform_cylinder(
        radius, 2.0 * radius, conductivity=conductivity,
        diffusivity=conductivity / density / float(water.heat_capacity),
        side=still, top=still, bottom=still,
    )  # fmt: skip
    return body, (0.0, radius)
