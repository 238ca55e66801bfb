"""Components, water from the steam table and a mixing rule make one food."""

from functools import cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from setwell.engine.heat.food_parts import ALCOHOL, COMPONENTS, WATER
from setwell.engine.heat.liquid_water import water_at
from setwell.engine.heat.mixing_rules import Rule
from setwell.science.heat.components import (
    component_property,
    mixture_density,
    mixture_heat_capacity,
    volume_fractions,
)
from setwell.science.heat.liquid_mixture import conductivity_filippov
from setwell.science.heat.mixing import (
    conductivity_maxwell_eucken,
    conductivity_parallel,
    conductivity_series,
)
from setwell.tables.heat.components import component_properties
from setwell.tables.heat.spirit_excess import spirit_excesses

Array = NDArray[np.float64]


class MixedFood(NamedTuple):
    """Properties of n unfrozen foods; `parallel` and `series` bound the conductivity."""

    conductivity: Array
    heat_capacity: Array
    density: Array
    parallel: Array
    series: Array
    # Share of the volume that is water and alcohol, without air.
    water_volume: Array


def mixed_food(fractions: Array, celsius: Array, rule: Rule, porosity: Array) -> MixedFood:
    """Return the properties of n foods from mass fractions (n, c) and temperatures (n,)."""
    conductivities, densities, capacities = component_values(celsius)
    volumes = volume_fractions(fractions, densities=densities)
    liquid_mass = fractions[..., WATER] + fractions[..., ALCOHOL]
    liquid_volume = volumes[..., WATER] + volumes[..., ALCOHOL]
    spirit = _share(fractions[..., ALCOHOL], liquid_mass)
    liquid = conductivity_filippov(
        conductivities[..., WATER], conductivities[..., ALCOHOL], second_mass_fraction=spirit
    )
    solid_volumes = np.delete(volumes, [WATER, ALCOHOL], axis=-1)
    solids = conductivity_parallel(
        np.delete(conductivities, [WATER, ALCOHOL], axis=-1),
        fractions=_share(solid_volumes, (1.0 - liquid_volume)[..., None], 0.2),
    )
    found = rule(liquid, solids, 1.0 - liquid_volume)
    # Bubbles are the last phase, scattered in all the rest.
    found = conductivity_maxwell_eucken(found, _air(celsius), dispersed_fraction=porosity)
    gain = liquid_mass * spirit_gain(spirit)[0]
    return MixedFood(
        found,
        mixture_heat_capacity(fractions, heat_capacities=capacities) + gain,
        mixture_density(fractions, densities=densities, porosity=porosity),
        conductivity_parallel(conductivities, fractions=volumes),
        conductivity_series(conductivities, fractions=volumes),
        liquid_volume,
    )


def spirit_gain(ethanol: Array) -> tuple[Array, Array, Array]:
    """Return the heat capacity that alcohol and water gain on mixing: middle, low and high."""
    rows = spirit_excesses()
    shares = [row.ethanol for row in rows]
    columns = [(row.value, row.low, row.high) for row in rows]
    value, low, high = (np.interp(ethanol, shares, column) for column in zip(*columns, strict=True))
    return value, low, high


def component_values(celsius: Array) -> tuple[Array, Array, Array]:
    """Return conductivity, density and heat capacity of each component, each (n, c)."""
    water = water_at(celsius)
    found = []
    for name, own in (
        ("conductivity", water.conductivity),
        ("density", water.density),
        ("heat_capacity", water.heat_capacity),
    ):
        values = component_property(celsius, coefficients=_coefficients(name))
        # The equation of water is 2.6 % off near freezing, the steam table is not.
        values[..., WATER] = own
        found.append(values)
    return found[0], found[1], found[2]


@cache
def _coefficients(name: str) -> Array:
    rows = component_properties()
    return np.array([rows[name, component].coefficients for component in COMPONENTS])


def _air(celsius: Array) -> Array:
    row = component_properties()["conductivity", "air"]
    return component_property(celsius, coefficients=[row.coefficients])[..., 0]


def _share(part: Array, whole: Array, without: float = 0.0) -> Array:
    whole = np.broadcast_to(whole, part.shape)
    found = np.divide(part, whole, out=np.full(part.shape, without), where=whole > 1e-12)
    return np.asarray(found)
