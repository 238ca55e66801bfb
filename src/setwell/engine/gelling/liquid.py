"""The liquid around the agents, and how coils in it thin under shear."""

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.state import SHEAR_RATES, Flow
from setwell.engine.spans import Spans

Array = NDArray[np.float64]

# Water at 20 °C [Pa·s].
_WATER_VISCOSITY = 0.0010
# Everything that is not water takes room; packing limit of a crowded liquid (Krieger-Dougherty).
_PACKING = 0.64
# Random coils: stress where the viscosity is half, and the power of the shear rate (recalled).
_HALF_STRESS_PA, _SHEAR_POWER = 10.0, 0.76


def base_viscosity(water_share: Array) -> Array:
    """Return the viscosity of the liquid without agents, crowded by its solids [Pa·s], (n,)."""
    crowded = np.clip(1.0 - water_share, 0.0, 0.5)
    return np.asarray(_WATER_VISCOSITY * (1.0 - crowded / _PACKING) ** (-2.5 * _PACKING))


def coil_flow(at_rest: Spans, base: Array) -> Flow:
    """Return the flow of random coils from the viscosity at rest [Pa·s], base included."""
    return Flow(Spans(*(_thinned(part, base) for part in at_rest)), base)


def _thinned(at_rest: Array, base: Array) -> Array:
    half = _HALF_STRESS_PA / np.clip(at_rest, 1e-6, None)
    fall = 1.0 + (SHEAR_RATES[None, :] / half[:, None]) ** _SHEAR_POWER
    return np.asarray(np.clip(at_rest - base, 0.0, None)[:, None] / fall)
