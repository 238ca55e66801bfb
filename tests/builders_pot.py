"""Short ways to heat a plain pot in tests, with a power-law liquid and our own losses."""

from collections.abc import Sequence

import numpy as np

from setwell.science.heat.buoyancy import LayerLiquid
from setwell.science.heat.evaporation import evaporation_still_air, latent_heat
from setwell.science.heat.flow_curve import layer_of_flow_curve
from setwell.science.heat.pot import PotRun, pot_run
from setwell.science.heat.pot_parts import PotBody, PotHeat, PotLoss, PotMotion
from setwell.science.heat.radiation import coefficient_radiation
from setwell.science.heat.surface_coefficient import coefficient_still_air

# A watery sauce, and the expansion of water at 75 °C.
SAUCE = LayerLiquid(0.56, 3900.0, 1020.0, 6.1e-4)
LATENT_BOIL = 2.263e6
_GRID = np.arange(0.0, 121.0, 2.5)
_LOGS = np.linspace(np.log(0.01), np.log(100.0), 13)
_RATES = np.geomspace(1e-9, 1e4, 27)


def losses(lids: Sequence[bool], *, lid_vapor: float = 0.08, lid_dry: float = 0.5):
    """Return heat [W/m2] and vapor [kg/m2s] that leave surfaces of each temperature."""
    vapor = evaporation_still_air(_GRID, air_c=20.0, humidity=0.5)
    top = coefficient_still_air(_GRID, surroundings_c=20.0, length=0.05, face="top")
    top = top + coefficient_radiation(_GRID, surroundings_c=20.0, emissivity=0.95)
    dry = top * (_GRID - 20.0)
    wet = np.array([(lid_vapor if lid else 1.0) * vapor for lid in lids])
    passed = np.array([(lid_dry if lid else 1.0) * dry for lid in lids])
    return passed + wet * latent_heat(_GRID), wet


def layer_tables(consistencies: Sequence[float], indices: Sequence[float]):
    """Return what boundary layers of power-law liquids pass, ready for the solver."""
    found = []
    for consistency, index in zip(consistencies, indices, strict=True):
        layer = layer_of_flow_curve(
            np.exp(_LOGS), rates=_RATES, viscosities=consistency * _RATES ** (index - 1.0),
            liquid=SAUCE,
        )  # fmt: skip
        found.append(np.tile(np.log(layer.coefficient), (2, 1)))
    return np.array(found)


def heated(
    viscosities: Sequence[float],
    *,
    indices: Sequence[float] | None = None,
    lids: Sequence[bool] | None = None,
    power: float | Sequence[float] = 800.0,
    target_c: float = 85.0,
    minutes: float = 90.0,
    depth: float = 0.08,
    side: float = 10.0,
    stirred: float = 0.0,
    interval: float = np.inf,
    tolerance: float = 0.4,
    boiling_c: float = 100.0,
    is_steam: bool = False,
    has_losses: bool = True,
    lid_vapor: float = 0.08,
    lid_dry: float = 0.5,
) -> PotRun:
    """Return pots 20 cm wide with the thermometer at the face of the base."""
    count = len(viscosities)
    one, no = np.ones(count), np.zeros(count, dtype=bool)
    area = np.pi / 4.0 * 0.2**2
    k, cp, rho = 0.56, 3900.0, 1020.0
    body = PotBody(
        area * one, np.pi * 0.2 * depth * one, depth * one, 0.05 * depth * one,
        rho * area * depth * one, rho * area * 0.003 * cp * one, cp * one, k * one,
    )  # fmt: skip
    heat = PotHeat(
        np.asarray(power) * one, target_c * one, one, 0.0 * one, no | is_steam, no | is_steam
    )
    flux, vapor = losses(lids or [False] * count, lid_vapor=lid_vapor, lid_dry=lid_dry)
    loss = PotLoss(
        0.0, 2.5, flux * has_losses, vapor * has_losses, side * has_losses * one, 20.0 * one,
        boiling_c * one, LATENT_BOIL * one,
    )  # fmt: skip
    motion = PotMotion(
        0.0, 100.0, _LOGS[0], _LOGS[1] - _LOGS[0],
        layer_tables(viscosities, indices or [1.0] * count), 1708.0 * one, stirred * one,
        interval * one,
    )  # fmt: skip
    return pot_run(
        body, heat, loss, motion, start_c=20.0, seconds=60.0 * minutes, tolerance=tolerance
    )
