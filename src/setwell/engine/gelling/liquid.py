"""The liquid around the agents: how thick it is when served, and how coils in it thin."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.state import KELVIN, SHEAR_RATES, AgentInput, Flow
from setwell.engine.spans import Spans
from setwell.science.flow.shear import half_rate_of_coils, viscosity_cross
from setwell.science.flow.syrup import (
    crowding_krieger_dougherty,
    sucrose_viscosity_genotelle_1978,
)
from setwell.science.flow.temperature import water_viscosity

Array = NDArray[np.float64]

# Packing limit of droplets and particles, and where the law is cut off below it.
_PACKING, _MOST_CROWDED = 0.64, 0.55
# Room that one part of fat, and one part of swollen protein, fiber or starch by weight takes
# (our judgment; plain milk comes out at 1.8 mPa·s, a little below what is measured).
_FAT_ROOM, _SOLIDS_ROOM = 1.08, 3.6
_ETHANOL_DENSITY = 789.0
# The syrup equation ends here; and nothing is poured colder or hotter than this.
_MOST_SUGAR = 0.85
_COLDEST_C, _HOTTEST_C = -5.0, 110.0
# Where figures of gums in solution hold [K].
REFERENCE_K = 298.15
WATER_AT_REFERENCE = float(water_viscosity(REFERENCE_K))
# Random coils: stress where the viscosity is half, and the power of the shear rate (recalled).
_HALF_STRESS_PA, _SHEAR_POWER = 10.0, 0.76


class Liquid(NamedTuple):
    """The liquid of n batches without its agents; each part (n,).

    `base` is its viscosity as served [Pa·s], `syrup` how many times thicker than water its sugar
    makes it at 25 °C, `serum` the share outside the fat, where gums dissolve, `droplets` how many
    times the fat thickens what is around it, `kelvin` the serving temperature.
    """

    base: Array
    syrup: Array
    serum: Array
    droplets: Array
    kelvin: Array


def liquid_of(agent: AgentInput) -> Liquid:
    """Return the liquid around an agent; the agent itself is left out of the solids."""
    fat = np.clip(agent.fat_share, 0.0, 0.8)
    sugar = np.clip(agent.water.brix.value / 100.0, 0.0, _MOST_SUGAR)
    solids = np.clip(_other_solids(agent, sugar), 0.0, 1.0)
    droplets = _crowding(_FAT_ROOM * fat)
    kelvin = np.clip(agent.serving_c, _COLDEST_C, _HOTTEST_C) + KELVIN
    both = np.stack([kelvin, np.full_like(kelvin, REFERENCE_K)])
    base, cold = sucrose_viscosity_genotelle_1978(sugar, temperature=both)
    return Liquid(
        base=base * crowded_by(fat, solids),
        syrup=cold / WATER_AT_REFERENCE,
        serum=1.0 - fat,
        droplets=droplets,
        kelvin=kelvin,
    )


def crowded_by(fat: Array, solids: Array) -> Array:
    """Return how many times fat and other solids thicken a syrup, from their mass fractions."""
    return _crowding(_SOLIDS_ROOM * solids / (1.0 - fat)) * _crowding(_FAT_ROOM * fat)


def _other_solids(agent: AgentInput, sugar: Array) -> Array:
    """Return what is neither water, sugar, fat, alcohol nor this agent, per mass of batch."""
    water = agent.water
    alcohol = water.alcohol_by_volume.value / 100.0 * _ETHANOL_DENSITY / water.density.value
    in_water = agent.water_share / (1.0 - sugar)
    return np.asarray(1.0 - in_water - agent.fat_share - alcohol - agent.dose_pct / 100.0)


def _crowding(volume: Array) -> Array:
    return crowding_krieger_dougherty(np.clip(volume, 0.0, _MOST_CROWDED), packing=_PACKING)


def added_flow(
    added: Spans,
    base: Array,
    *,
    half_stress: float = _HALF_STRESS_PA,
    shear_power: float = _SHEAR_POWER,
) -> Flow:
    """Return the flow of random coils from what they add to the viscosity at rest [Pa·s]."""
    at_rest = np.stack(added)[..., None]
    half = half_rate_of_coils(np.maximum(at_rest, 1e-9), half_stress=half_stress)
    thinned = viscosity_cross(
        SHEAR_RATES,
        zero_shear_viscosity=at_rest,
        high_shear_viscosity=0.0,
        half_rate=half,
        exponent=shear_power,
    )
    return Flow(Spans(*thinned), base)
