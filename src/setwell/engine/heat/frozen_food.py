"""How much of a batch is ice below its freezing point, and what that does to heat."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from setwell.engine.heat.food_parts import PROTEIN, WATER
from setwell.engine.heat.mixed_food import component_values
from setwell.engine.spans import Spans
from setwell.provenance import Citation, Evidence, Grade
from setwell.science.heat.components import component_property, volume_fractions
from setwell.science.heat.freezing import (
    enthalpy_chen_1985,
    ice_fraction_miles_1983,
    ice_fraction_tchigeov_1979,
)
from setwell.science.heat.mixing import (
    conductivity_levy,
    conductivity_maxwell_eucken,
    conductivity_parallel,
)
from setwell.tables.heat.components import component_properties

Array = NDArray[np.float64]

# Water that never freezes, per protein.
_BOUND = 0.4
# Freezing points that the rule fitted to many foods holds for [°C].
_FITTED_C = (-2.0, -0.4)
# Our judgment: strong syrup keeps more water liquid than the rule says, the more the sweeter.
_ICE_ERROR, _ICE_ERROR_SWEET, _SWEET_C = 0.1, 0.35, -6.0
_HEAT_ERROR = 0.1
# What ice and food as known may be off by beside the way they lie.
_RULE_ERROR = 0.055

ICE_EVIDENCE: Evidence = (
    Citation("chen_1985", "ice, heat capacity and enthalpy, recalled", Grade.UNVERIFIED),
    Citation("ashrae_2006", "ice in foods, recalled", Grade.UNVERIFIED),
)


@dataclass(frozen=True, slots=True)
class FrozenFood:
    """n batches with their ice: `ice` is a share of the mass, `heat` [J/kg] what leaves the food
    between its freezing point and the temperature; zero and unfrozen where it is warmer.
    """

    ice: Spans
    conductivity: Spans
    heat: Spans


def frozen_food(fractions: Array, celsius: Array, freezing: Array) -> FrozenFood:
    """Return the ice of n batches from mass fractions (n, c), temperature and freezing point."""
    # Nothing freezes where there is no freezing point, or one that is no fall at all.
    start = np.minimum(np.where(np.isnan(freezing), -80.0, freezing), -0.01)
    water, bound = fractions[:, WATER], _BOUND * fractions[:, PROTEIN]
    bound = np.minimum(bound, water)
    ice = _ice(water, bound, celsius, start)
    heat = np.stack(
        [
            enthalpy_chen_1985(at, water_share=water, bound_water=bound, freezing_point=start)
            for at in (start, np.minimum(celsius, start))
        ]
    )
    lost = heat[0] - heat[1]
    share = np.divide(ice.low, ice.value, out=np.ones_like(ice.low), where=ice.value > 0)
    return FrozenFood(
        ice,
        _conductivity(fractions, np.minimum(celsius, 0.0), ice),
        Spans(lost, lost * (share - _HEAT_ERROR), lost * (1.0 + _HEAT_ERROR)),
    )


def _ice(water: Array, bound: Array, celsius: Array, start: Array) -> Spans:
    value = ice_fraction_miles_1983(
        celsius, water_share=water, bound_water=bound, freezing_point=start
    )
    fitted = ice_fraction_tchigeov_1979(celsius, water_share=water, freezing_point=start)
    is_fitted = (start >= _FITTED_C[0]) & (start <= _FITTED_C[1])
    most = np.where(is_fitted, np.maximum(value, fitted), value * (1.0 + _ICE_ERROR))
    sweet = np.clip(start / _SWEET_C, 0.0, 1.0)
    least = value * (1.0 - _ICE_ERROR - (_ICE_ERROR_SWEET - _ICE_ERROR) * sweet)
    return Spans(value, least, np.minimum(most, water))


def _conductivity(fractions: Array, celsius: Array, ice: Spans) -> Spans:
    """Return ice and the rest by Levy's rule, between ice around the rest and the other way."""
    found = [_phases(fractions, celsius, part) for part in ice]
    (value, _, _), low, high = found[0], found[1][1], found[2][2]
    return Spans(value, low * (1.0 - _RULE_ERROR), high * (1.0 + _RULE_ERROR))


def _phases(fractions: Array, celsius: Array, ice: Array) -> tuple[Array, Array, Array]:
    conductivities, densities, _ = component_values(celsius)
    own = [component_properties()[name, "ice"].coefficients for name in ("conductivity", "density")]
    frozen = component_property(celsius, coefficients=own)
    parts = np.concatenate([fractions, ice[:, None]], axis=1)
    parts[:, WATER] -= ice
    volumes = volume_fractions(
        np.clip(parts, 0.0, None), densities=np.concatenate([densities, frozen[:, 1:]], axis=1)
    )
    share, rest = volumes[:, -1], volumes[:, :-1]
    soft = conductivity_parallel(conductivities, fractions=rest / rest.sum(axis=1, keepdims=True))
    return (
        conductivity_levy(frozen[:, 0], soft, first_fraction=share),
        conductivity_maxwell_eucken(soft, frozen[:, 0], dispersed_fraction=share),
        conductivity_maxwell_eucken(frozen[:, 0], soft, dispersed_fraction=1.0 - share),
    )
