"""Conductivity, heat capacity and density of n candidate batches, with their ranges."""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from setwell.engine.heat.food_parts import ALCOHOL, FAT, SUGAR, WATER, FoodParts, food_parts
from setwell.engine.heat.mixed_food import MixedFood, mixed_food, spirit_gain
from setwell.engine.heat.mixing_rules import USUAL_RULE, rule_half_width, rule_of
from setwell.engine.pipeline import BatchState
from setwell.engine.spans import Spans
from setwell.errors import OutOfRangeError
from setwell.science.heat.components import thermal_diffusivity
from setwell.units import temperature_print

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

# Where the equations were made for, and how far they are followed with a mark [°C].
VALID_C, _FOLLOWED_C = (-40.0, 150.0), (-60.0, 160.0)
# Alcohol has equations from 0 to 80 °C.
_SPIRIT_C = (0.0, 80.0)
# Less water than this share of the volume may not surround the rest.
_LITTLE_WATER = 0.3
# Less alcohol than this in water and alcohol, and less hard fat in all, does not count.
_LITTLE_ALCOHOL, _LITTLE_FAT = 0.005, 0.01
# Our judgment of what the equations may be off by, as a share of the figure: of the heat
# capacity of solids, of dry sugar and for what is beyond their range; of the conductivity for
# pure fat and for spirits.
_CAPACITY_ERROR, _SUGAR_ERROR, _BEYOND = 0.02, 0.085, 0.05
_FAT_ERROR, _SPIRIT_ERROR = 0.25, 0.05
# What is left of these in plain water, and the solids that bring them out in full.
_LEAST_ERROR, _SOLID_ENOUGH = 0.005, 0.1
# Liquid water below 0 °C is taken as at 0 °C: doubt per °C.
_SUPERCOOLED = 0.004
# Hard fat melts between 0 and 40 °C and takes up to 130 kJ/kg, half of that or more within 15 °C.
_MELTING_C, _MELTING_HEAT, _MELTING_OVER = (0.0, 40.0), 130_000.0, 25.0
# Spirits may freeze this much off the law of their share.
_SPIRIT_FREEZING = 0.3


@dataclass(frozen=True, slots=True)
class FoodProperties:
    """Heat properties of n batches, unfrozen: SI units, `freezing` in °C (NaN = not known)."""

    at_c: Array
    mixing: str
    porosity: Array
    # Mass fractions (n, c) in the order of COMPONENTS.
    fractions: Array
    conductivity: Spans
    heat_capacity: Spans
    density: Spans
    diffusivity: Spans
    freezing: Spans
    is_frozen: Mask
    is_extrapolated: Mask
    is_incomplete: Mask
    has_alcohol: Mask
    has_little_water: Mask
    has_melting_fat: Mask


def food_properties(
    state: BatchState,
    *,
    at_c: ArrayLike,
    mixing: str = USUAL_RULE,
    porosity: ArrayLike = 0.0,
) -> FoodProperties:
    """Return the heat properties of n batches at a temperature, one or one for each.

    `mixing` names the rule that joins water and solids; `porosity` is the share of air by volume.
    """
    rule, count = rule_of(mixing), len(state.masses)
    celsius = np.broadcast_to(_followed(at_c), (count,))
    air = np.broadcast_to(_porosity(porosity), (count,))
    parts = food_parts(state.composition)
    foods = _Foods(
        *(
            mixed_food(fractions, celsius, rule, air)
            for fractions in (parts.middle, parts.drier, parts.wetter)
        )
    )
    at_20 = mixed_food(parts.middle, np.full(count, 20.0), rule, np.zeros(count))
    beyond, melting = _is_beyond(parts, celsius), _is_melting(parts, celsius)
    conductivity = _conductivity(parts, foods, celsius, rule_half_width(mixing), beyond)
    capacity = _heat_capacity(parts, foods, beyond, melting)
    density = _density(state, foods, foods.middle.density / at_20.density, beyond)
    freezing = _freezing(state, parts)
    return FoodProperties(
        at_c=celsius,
        mixing=mixing,
        porosity=air,
        fractions=parts.middle,
        conductivity=conductivity,
        heat_capacity=capacity,
        density=density,
        diffusivity=_diffusivity(conductivity, capacity, density),
        freezing=freezing,
        is_frozen=np.asarray(celsius < freezing.value),
        is_extrapolated=beyond,
        is_incomplete=parts.is_incomplete,
        has_alcohol=np.asarray(parts.spirit > _LITTLE_ALCOHOL),
        has_little_water=np.asarray(foods.middle.water_volume < _LITTLE_WATER),
        has_melting_fat=melting,
    )


class _Foods(NamedTuple):
    """The same batches as their tables say, and as dry and as wet as they may be."""

    middle: MixedFood
    drier: MixedFood
    wetter: MixedFood


def _followed(at_c: ArrayLike) -> Array:
    celsius = np.asarray(at_c, dtype=np.float64)
    low, high = _FOLLOWED_C
    wrong = ~((celsius >= low) & (celsius <= high))
    if np.any(wrong):
        given = float(celsius[wrong].flat[0])
        said = temperature_print(given) if np.isfinite(given) else "This"
        raise OutOfRangeError(
            f"{said} is no temperature that food properties are known for.",
            field="temperature",
            hint=f"Give one from {temperature_print(low)} to {temperature_print(high)}.",
        )
    return celsius


def _porosity(porosity: ArrayLike) -> Array:
    air = np.asarray(porosity, dtype=np.float64)
    if np.any(~((air >= 0) & (air < 1))):
        raise OutOfRangeError(
            f"{100 * float(np.max(air)):.0f} % air is not possible.",
            field="porosity",
            hint="Give the share of air in the volume as 0 to 0.95; 0.5 doubles the volume.",
        )
    return air


def _is_beyond(parts: FoodParts, celsius: Array) -> Mask:
    beyond = (celsius < VALID_C[0]) | (celsius > VALID_C[1])
    spirit = (celsius < _SPIRIT_C[0]) | (celsius > _SPIRIT_C[1])
    return np.asarray(beyond | (spirit & (parts.spirit > _LITTLE_ALCOHOL)))


def _is_melting(parts: FoodParts, celsius: Array) -> Mask:
    is_between = (celsius > _MELTING_C[0]) & (celsius < _MELTING_C[1])
    return np.asarray((parts.hard_fat > _LITTLE_FAT) & is_between)


def _conductivity(
    parts: FoodParts, foods: _Foods, celsius: Array, error: float, beyond: Mask
) -> Spans:
    middle, drier, wetter = (food.conductivity for food in foods)
    dry_volume = 1.0 - foods.middle.water_volume
    model = _LEAST_ERROR + error * np.minimum(dry_volume / _SOLID_ENOUGH, 1.0)
    model = model + _FAT_ERROR * parts.middle[:, FAT] + np.where(beyond, _BEYOND, 0.0)
    model = model + _SPIRIT_ERROR * np.minimum(parts.spirit / 0.2, 1.0)
    model = model + _SUPERCOOLED * np.clip(-celsius, 0.0, None)
    found = _joined(middle, (drier, wetter), model, model)
    # With little water nobody knows what surrounds what: only the bounds are sure.
    little = foods.middle.water_volume < _LITTLE_WATER
    return Spans(
        found.value,
        np.where(little, np.minimum(found.low, foods.middle.series), found.low),
        np.where(little, np.maximum(found.high, foods.middle.parallel), found.high),
    )


def _heat_capacity(parts: FoodParts, foods: _Foods, beyond: Mask, melting: Mask) -> Spans:
    middle, drier, wetter = (food.heat_capacity for food in foods)
    liquid = parts.middle[:, WATER] + parts.middle[:, ALCOHOL]
    solids = np.minimum((1.0 - liquid) / _SOLID_ENOUGH, 1.0)
    error = _LEAST_ERROR + _CAPACITY_ERROR * solids + np.where(beyond, _BEYOND, 0.0)
    gain = spirit_gain(parts.spirit)
    # Sugar syrups hold less heat than their parts, melting fat more.
    below = error + _SUGAR_ERROR * parts.middle[:, SUGAR] + liquid * (gain[0] - gain[1]) / middle
    above = error + liquid * (gain[2] - gain[0]) / middle
    melt = _MELTING_HEAT / _MELTING_OVER * parts.hard_fat
    above = above + np.where(melting, melt / middle, 0.0)
    return _joined(middle, (drier, wetter), below, above)


def _density(state: BatchState, foods: _Foods, warmth: Array, beyond: Mask) -> Spans:
    """Return the density known at 20 °C, carried to another temperature."""
    known = state.water.density
    middle, drier, wetter = (food.density for food in foods)
    value = known.value * warmth
    error = np.where(beyond, _BEYOND, 0.0)
    return _joined(
        value, (value * drier / middle, value * wetter / middle),
        1.0 - known.low / known.value + error, known.high / known.value - 1.0 + error,
    )  # fmt: skip


def _diffusivity(conductivity: Spans, capacity: Spans, density: Spans) -> Spans:
    value = thermal_diffusivity(
        conductivity.value, density=density.value, heat_capacity=capacity.value
    )
    down = [1.0 - conductivity.low / conductivity.value]
    down += [one.high / one.value - 1.0 for one in (capacity, density)]
    up = [conductivity.high / conductivity.value - 1.0]
    up += [1.0 - one.low / one.value for one in (capacity, density)]
    low, high = (np.sqrt(sum(part**2 for part in parts)) for parts in (down, up))
    return Spans(value, value * (1.0 - np.minimum(low, 0.9)), value * (1.0 + high))


def _freezing(state: BatchState, parts: FoodParts) -> Spans:
    """Return where ice begins, NaN where there is too little water to tell."""
    found = state.water.solids.freezing_c
    is_known = state.water.acidity.is_solved
    doubt = np.minimum(parts.spirit / 0.2, 1.0) * _SPIRIT_FREEZING * np.abs(found.value)
    low, high = found.low - doubt, np.minimum(found.high + doubt, 0.0)
    return Spans(*(np.where(is_known, part, np.nan) for part in (found.value, low, high)))


def _joined(value: Array, pushed: tuple[Array, Array], below: Array, above: Array) -> Spans:
    """Return a range that joins the doubt of the composition with that of the equations."""
    down = np.maximum(value - np.minimum(*pushed), 0.0)
    up = np.maximum(np.maximum(*pushed) - value, 0.0)
    return Spans(
        value,
        np.maximum(value - np.hypot(down, value * below), 0.1 * value),
        value + np.hypot(up, value * above),
    )
