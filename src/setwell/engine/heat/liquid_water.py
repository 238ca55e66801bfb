"""Liquid water at any kitchen temperature, from the steam table."""

from functools import cache
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from setwell.provenance import Evidence
from setwell.science.heat.water import water_property
from setwell.tables.heat.water import water_rows

Array = NDArray[np.float64]


class LiquidWater(NamedTuple):
    """Conductivity [W/m/K], heat capacity [J/kg/K], density [kg/m3], viscosity [Pa·s] and
    thermal expansion [1/K].
    """

    conductivity: Array
    heat_capacity: Array
    density: Array
    viscosity: Array
    expansion: Array


def water_at(celsius: ArrayLike) -> LiquidWater:
    """Return liquid water at temperatures [°C]; outside 0 to 150 °C the end of the table stays."""
    temperatures, values = _table()
    found = water_property(celsius, temperatures=temperatures, values=values)
    # Viscosity falls sevenfold over the table: its logarithm is the smoother curve.
    return LiquidWater(
        found[..., 0], found[..., 1], found[..., 2], np.exp(found[..., 3]), found[..., 4]
    )


def water_evidence() -> Evidence:
    """Return where the steam table comes from."""
    return tuple(dict.fromkeys(row.citation for row in water_rows()))


@cache
def _table() -> tuple[Array, Array]:
    rows = water_rows()
    values = [
        (r.conductivity, r.heat_capacity, r.density, np.log(r.viscosity), r.expansion) for r in rows
    ]
    return np.array([row.temperature_c for row in rows]), np.array(values)
