"""What a heated pot is made of, what heats it, and what it loses."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

# The base with its film of liquid, six slices of liquid, and the skin at the surface.
NODES = 8
SLICES = NODES - 2


class PotBody(NamedTuple):
    """n pots and what is in them; SI units, each part (n,).

    `base_heat` is what the base and its film of liquid hold per degree [J/K], `skin` the depth
    [m] of the layer that stands for the surface.
    """

    area: Array
    side_area: Array
    depth: Array
    skin: Array
    mass: Array
    base_heat: Array
    heat_capacity: Array
    conductivity: Array


class PotHeat(NamedTuple):
    """How n pots are heated: power into the food [W], and when it is throttled.

    The thermometer stands `probe` [m] above the base. Around its reading of `target_c` the power
    is taken back smoothly: 95 % are left half of `band` [K] below, 5 % above. `is_direct` heats
    the liquid itself instead of the base, and `is_steam` does so with live steam that stays in
    the pot as water.
    """

    power: Array
    target_c: Array
    band: Array
    probe: Array
    is_direct: Mask
    is_steam: Mask


class PotLoss(NamedTuple):
    """What n pots lose: tables over the temperature of the surface, and the rest.

    `flux` [W/m2] with the heat of the vapor in it and `vapor` [kg/m2s] have shape (n, g), at
    g even steps of `step_c` from `first_c`. `side` [W/m2K] is that of the upright wall, `latent`
    [J/kg] the heat of boiling at `boiling_c`.
    """

    first_c: float
    step_c: float
    flux: Array
    vapor: Array
    side: Array
    room_c: Array
    boiling_c: Array
    latent: Array


class PotMotion(NamedTuple):
    """How the liquid in n pots moves.

    `log_layer` (n, a, b) is the logarithm of the coefficient of a boundary layer [W/m2K] over a
    even steps of the liquid's temperature and b even steps of the logarithm of the difference.
    `critical` (n,) is the Rayleigh number of the onset, `stirred` (n,) what steady
    stirring makes of the base [W/m2K], zero for none; every `interval` (n,) [s] all of it is
    stirred through.
    """

    first_c: float
    step_c: float
    first_log: float
    step_log: float
    log_layer: Array
    critical: Array
    stirred: Array
    interval: Array
