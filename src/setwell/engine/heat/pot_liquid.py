"""How thick a batch is in the hot pot, and how it moves there when nobody stirs."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.hydration_rate import Window, kinetics
from setwell.engine.gelling.liquid import crowded_by
from setwell.engine.gelling.state import KELVIN, SHEAR_RATES
from setwell.engine.heat.liquid_water import water_at
from setwell.engine.heat.results import Foodstuff
from setwell.engine.rules.bench import Bench
from setwell.science.flow.syrup import sucrose_viscosity_genotelle_1978
from setwell.science.flow.temperature import arrhenius_flow_factor
from setwell.science.heat.buoyancy import LayerLiquid, yield_number
from setwell.science.heat.flow_curve import layer_of_flow_curve

Array = NDArray[np.float64]

# Where the table of boundary layers has its points.
FIRST_C, STEP_C = 0.0, 10.0
_CELSIUS: Array = np.arange(FIRST_C, 111.0, STEP_C)
_LOG_DIFFERENCES: Array = np.linspace(np.log(0.01), np.log(100.0), 13)
FIRST_LOG = float(_LOG_DIFFERENCES[0])
STEP_LOG = float(_LOG_DIFFERENCES[1] - _LOG_DIFFERENCES[0])
# Gums thin by this much as they warm [J/mol] (recalled; middle, then thickest and thinnest).
_ENERGY_J = (20e3, 15e3, 30e3)
# Differences come out this much larger or smaller than computed (our judgment), which is the
# coefficient to the power 4/3.
DIFFERENCE_DOUBT = 1.4
_COEFFICIENT_DOUBT = DIFFERENCE_DOUBT ** (4.0 / 3.0)
# A hot gelling powder whose thickness no law gives thickens its liquid so many times (our
# judgment; middle, thickest and thinnest).
_HOT_SOL = (4.0, 40.0, 1.0)
# A liquid whose power of thinning is below this at the slowest shear holds still like a paste.
_PASTE_INDEX = 0.3
_PLUMES_FROM, _PLUMES_FREE = 120.0, 260.0
# Takes the coefficient far below that of conduction.
_STILL_LOG = -7.0
# How much warmer the layer at the base is than the middle; three times as much at worst [K].
_FILM_K = 10.0
_MOST_SUGAR, _ETHANOL_DENSITY = 0.85, 789.0
_LEAST_EXPANSION = 2e-5


@dataclass(frozen=True, slots=True)
class PotLiquid:
    """The liquid of one batch in the pot.

    `log_layer` (3, t, d) is the logarithm of the coefficient of a boundary layer [W/m2K] at a
    middling, the worst and the best mixing; `viscosity` (3, t) the viscosity at work there with
    10 K across, in Pa·s, once the powders have dissolved; `yield_pa` is None for a liquid
    without a yield stress; `is_extrapolated` says whether the flow curve was left.
    """

    log_layer: Array
    viscosity: Array
    yield_pa: float | None
    is_extrapolated: bool

    def layers(self, mixing: Array) -> Array:
        """Return tables (n, t, d) for n cases from -1 (worst) to 1 (best)."""
        middle, worst, best = self.log_layer
        by = np.asarray(mixing)[:, None, None]
        return np.asarray(
            np.where(by < 0, middle - by * (worst - middle), middle + by * (best - middle))
        )

    def viscosity_at(self, celsius: float) -> tuple[float, float, float]:
        """Return the viscosity at work [Pa·s] in the middle, at its thinnest and thickest."""
        middle, thick, thin = (float(np.interp(celsius, _CELSIUS, v)) for v in self.viscosity)
        return middle, thin, thick


def pot_liquid(bench: Bench, food: Foodstuff, *, depth: float, row: int = 0) -> PotLiquid:
    """Return how one candidate moves in a pot of this depth [m]."""
    base = _base_viscosity(bench, row)
    liquid = _layer_liquid(food)
    flow = bench.state.texture.flow
    differences = np.exp(_LOG_DIFFERENCES)
    tables, viscosities, yields, is_extrapolated = [], [], [], False
    for case in range(3):
        curve = base[:, None] * np.ones_like(SHEAR_RATES)
        thick = curve
        if flow is not None:
            added = (flow.added.value, flow.added.high, flow.added.low)[case][row]
            thick = curve + _warmth(bench, case, row)[:, None] * np.maximum(added, 0.0)
        elif bench.state.agents:
            thick = _HOT_SOL[case] * curve
        share = _thickened(bench, case, row)[:, None]
        mixed = np.exp((1.0 - share) * np.log(curve) + share * np.log(thick))
        layer = layer_of_flow_curve(
            differences, rates=SHEAR_RATES, viscosities=mixed[:, None, :], liquid=liquid
        )
        doubt = (0.0, -1.0, 1.0)[case] * np.log(_COEFFICIENT_DOUBT)
        still, yield_pa = _held_still(mixed, differences, depth, liquid)
        tables.append(np.log(layer.coefficient) + doubt + still)
        yields.append(yield_pa)
        at_ten = layer_of_flow_curve(
            10.0, rates=SHEAR_RATES, viscosities=thick, liquid=_row(liquid)
        )
        viscosities.append(at_ten.viscosity)
        is_extrapolated |= bool((at_ten.stress < thick[:, 0] * SHEAR_RATES[0]).any())
    is_paste = flow is not None and is_extrapolated
    return PotLiquid(np.stack(tables), np.stack(viscosities), yields[0], is_paste)


def _layer_liquid(food: Foodstuff) -> LayerLiquid:
    """Return the liquid with the expansion of water at each temperature, (t, 1)."""
    expansion = np.maximum(water_at(_CELSIUS).expansion, _LEAST_EXPANSION)[:, None]
    return LayerLiquid(food.conductivity, food.heat_capacity, food.density, expansion)


def _row(liquid: LayerLiquid) -> LayerLiquid:
    return liquid._replace(expansion=np.asarray(liquid.expansion)[:, 0])


def _base_viscosity(bench: Bench, row: int) -> Array:
    """Return the viscosity of the liquid without its agents at each temperature [Pa·s]."""
    state = bench.state
    water = state.water
    sugar = float(np.clip(water.brix.value[row] / 100.0, 0.0, _MOST_SUGAR))
    fat = float(np.clip(state.composition.share("fat_g")[row], 0.0, 0.8))
    dose = sum(float(dose[row]) for dose in state.doses_pct.values()) / 100.0
    spirit = water.alcohol_by_volume.value[row] / 100.0 * _ETHANOL_DENSITY
    spirit /= water.density.value[row]
    in_water = float(state.composition.share("water_g")[row]) / (1.0 - sugar)
    solids = np.clip(1.0 - in_water - fat - spirit - dose, 0.0, 1.0)
    syrup = sucrose_viscosity_genotelle_1978(sugar, temperature=_CELSIUS + KELVIN)
    return np.asarray(syrup * crowded_by(np.array(fat), np.array(solids)))


def _warmth(bench: Bench, case: int, row: int) -> Array:
    """Return how much of the thickness as served is left at each temperature."""
    served = float(bench.state.serving_c[row]) + KELVIN
    return arrhenius_flow_factor(
        _CELSIUS + KELVIN, activation_energy=_ENERGY_J[case], reference_temperature=served
    )


def _thickened(bench: Bench, case: int, row: int) -> Array:
    """Return how far the agents have thickened the pot at each temperature, from 0 to 1.

    The layer at the base is warmer than the middle and thickens first; at best the powders wait
    until the middle itself is fully hot.
    """
    whole = np.ones_like(_CELSIUS)
    found = np.zeros_like(_CELSIUS)
    total = 0.0
    shared = bench.state.texture.flow_shares or dict.fromkeys(bench.state.agents, np.ones(1))
    for key, shares in shared.items():
        share = max(float(np.broadcast_to(shares, (row + 1,))[row]), 0.0)
        window = kinetics(key).window if kinetics(key).needs_heat else None
        cold = kinetics(key).cold_share.value if window is not None else 1.0
        ramp = whole if window is None else _ramp(window, case)
        found += share * np.maximum(ramp, cold)
        total += share
    return found / total if total > 0 else whole


def _ramp(window: Window, case: int) -> Array:
    onset, full = window.onset, window.full
    start, end = (
        (onset.value - _FILM_K, full.value - _FILM_K),
        (onset.low - 3.0 * _FILM_K, full.low - 3.0 * _FILM_K),
        (onset.high, full.high),
    )[case]
    return np.clip((_CELSIUS - start) / max(end - start, 1.0), 0.0, 1.0)


def _held_still(
    curve: Array, differences: Array, depth: float, liquid: LayerLiquid
) -> tuple[Array | float, float | None]:
    """Return what a yield stress takes from the logarithm of the coefficient, and that stress."""
    index = 1.0 + np.log(curve[:, 1] / curve[:, 0]) / np.log(SHEAR_RATES[1] / SHEAR_RATES[0])
    is_paste = index < _PASTE_INDEX
    if not is_paste.any():
        return 0.0, None
    stress = curve[:, 0] * SHEAR_RATES[0]
    pull = yield_number(differences, depth=depth, yield_stress=stress[:, None], liquid=liquid)
    share = np.clip((_PLUMES_FREE - pull) / (_PLUMES_FREE - _PLUMES_FROM), 0.0, 1.0)
    held = np.where(is_paste[:, None], share * _STILL_LOG, 0.0)
    return held, float(stress[is_paste][-1])
