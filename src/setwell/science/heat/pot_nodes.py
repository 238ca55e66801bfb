"""What a heated pot is made of, and the heat that runs between its parts at one moment."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from setwell.science.heat.buoyancy import LAYER

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

# The base with its film of liquid, ten slices of liquid, and the skin at the surface.
NODES = 12
SLICES = NODES - 2
# Between slices of a liquid that moves: much more than any heat that passes [W/m2K].
_MIXED = 1e6
# Bubbles carry off nearly everything above the boiling point [W/m2K].
_BUBBLING = 5000.0
# From half to twice the critical Rayleigh number motion takes over from conduction.
_ONSET_WIDTH = np.log(4.0)
_STEAM_C = 100.0


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

    The thermometer stands `probe` [m] above the base. Power is full until it reads `target_c`
    and zero `band` [K] above. `is_direct` heats the liquid itself instead of the base, and
    `is_steam` does so with live steam that stays in the pot as water.
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
    `critical` (n,) is the Rayleigh number of the onset, `stirred` (n,) what stirring adds at base
    and surface [W/m2K], zero for none; every `interval` (n,) [s] all of it is stirred through.
    """

    first_c: float
    step_c: float
    first_log: float
    step_log: float
    log_layer: Array
    critical: Array
    stirred: Array
    interval: Array


class Moment(NamedTuple):
    """Heat flows at one moment; `flows` (n, 6) are those of FLOWS, `slopes` (n, 6, M) theirs."""

    gains: Array
    slopes: Array
    flows: Array
    flow_slopes: Array
    reading: Array


# Power in [W], heat lost at side and surface [W], heat of boiling [W], vapor and condensate [kg/s].
FLOWS = ("power", "side", "top", "boiling", "vapor", "condensate")


def moment(
    celsius: Array, body: PotBody, heat: PotHeat, loss: PotLoss, motion: PotMotion
) -> Moment:
    """Return the heat gained by each node (n, M) [W], and how it changes per kelvin (n, M, M).

    Parameters
    ----------
    celsius : ndarray, shape (n, M)
        Temperatures from the base to the surface [°C].
    body : PotBody, shape (n,)
        The pots [SI].
    heat : PotHeat, shape (n,)
        What heats them [SI].
    loss : PotLoss, shape (n,)
        What they lose [SI].
    motion : PotMotion, shape (n,)
        How the liquid moves [SI].

    Returns
    -------
    Moment, shape (n, M)
        Heat flows and their slopes [W, W/K].

    Notes
    -----
    Between neighbors q = G (T_1 − T_2). In a liquid that moves G is that of the boundary layer at
    base and surface and very large in between; at rest it is conduction, k over the distance.
    Slopes leave out how G itself changes. Meant for one step of the pot's course.

    References
    ----------
    mcadams_1954
        Boundary layers that pass heat whatever the depth.

    Examples
    --------
    See `pot_run`, which takes these steps.

    >>> len(FLOWS)
    6
    """
    n = len(celsius)
    core = celsius[:, 1:-1].mean(axis=1)
    conduct, base_layer = _conductances(celsius, core, body, motion)
    gains, slopes = np.zeros((n, NODES)), np.zeros((n, NODES * NODES))
    flow = conduct * (celsius[:, :-1] - celsius[:, 1:])
    gains[:, :-1] -= flow
    gains[:, 1:] += flow
    diagonal, upper, lower = (slopes[:, start :: NODES + 1] for start in (0, 1, NODES))
    diagonal[:, :-1] -= conduct
    diagonal[:, 1:] -= conduct
    upper[:, : NODES - 1] += conduct
    lower[:, : NODES - 1] += conduct
    square = slopes.reshape(n, NODES, NODES)
    flows, flow_slopes = np.zeros((n, 6)), np.zeros((n, 6, NODES))
    _lose(celsius, body, loss, flows, flow_slopes, gains, diagonal)
    _boil(celsius, body, loss, flows, flow_slopes, gains, square)
    reading = _heat(celsius, core, base_layer, body, heat, loss, flows, flow_slopes, gains, square)
    return Moment(gains, square, flows, flow_slopes, reading)


def _conductances(
    celsius: Array, core: Array, body: PotBody, motion: PotMotion
) -> tuple[Array, Array]:
    """Return the conductances between the nodes [W/K], and the coefficient at the base."""
    slice_depth = (body.depth - body.skin) / SLICES
    still = body.conductivity / slice_depth
    base, base_share = _layer(celsius[:, 0] - core, core, body, motion, 2.0 * still)
    to_skin = body.conductivity / (0.5 * (slice_depth + body.skin))
    top, top_share = _layer(core - celsius[:, -1], core, body, motion, to_skin)
    share = np.maximum(base_share, top_share)
    inside = still * (_MIXED / still) ** share
    conduct = np.empty((len(core), NODES - 1))
    conduct[:, 0], conduct[:, -1] = base, top
    conduct[:, 1:-1] = inside[:, None]
    return conduct * body.area[:, None], base


def _layer(
    difference: Array, core: Array, body: PotBody, motion: PotMotion, still: Array
) -> tuple[Array, Array]:
    """Return a boundary layer's coefficient, and how far the liquid moves from 0 to 1."""
    moving = np.exp(_read(np.maximum(difference, 1e-9), core, motion))
    rayleigh = np.log(moving * body.depth / (LAYER * body.conductivity)) * 3.0
    place = np.clip((rayleigh - np.log(motion.critical)) / _ONSET_WIDTH + 0.5, 0.0, 1.0)
    place = np.where(difference > 0, place * place * (3.0 - 2.0 * place), 0.0)
    free = still * (moving / still) ** place
    stirred = motion.stirred > 0
    return np.maximum(free, motion.stirred), np.where(stirred, 1.0, place)


def _read(difference: Array, core: Array, motion: PotMotion) -> Array:
    """Return the table of boundary layers between its points; beyond the ends it goes on."""
    table = motion.log_layer
    _, warm, wide = table.shape
    across = np.clip((core - motion.first_c) / motion.step_c, 0.0, warm - 1.000001)
    along = (np.log(difference) - motion.first_log) / motion.step_log
    i = across.astype(np.intp)
    j = np.clip(along, 0.0, wide - 2).astype(np.intp)
    a, b, row = across - i, along - j, np.arange(len(core))
    cold = table[row, i, j] + b * (table[row, i, j + 1] - table[row, i, j])
    hot = table[row, i + 1, j] + b * (table[row, i + 1, j + 1] - table[row, i + 1, j])
    return np.asarray(cold + a * (hot - cold))


def _lose(
    celsius: Array, body: PotBody, loss: PotLoss, flows: Array, flow_slopes: Array,
    gains: Array, diagonal: Array,
) -> None:  # fmt: skip
    """Take what side and surface lose from the nodes."""
    part = (loss.side * body.side_area / SLICES)[:, None]
    away = part * (celsius[:, 1:-1] - loss.room_c[:, None])
    gains[:, 1:-1] -= away
    diagonal[:, 1:-1] -= part
    flows[:, 1], flow_slopes[:, 1, 1:-1] = away.sum(axis=1), part
    place = (celsius[:, -1] - loss.first_c) / loss.step_c
    i = np.clip(place, 0.0, loss.flux.shape[1] - 2).astype(np.intp)
    row, share = np.arange(len(celsius)), place - i
    for table, number in ((loss.flux, 2), (loss.vapor, 4)):
        rise = table[row, i + 1] - table[row, i]
        flows[:, number] = body.area * (table[row, i] + share * rise)
        flow_slopes[:, number, -1] = body.area * rise / loss.step_c
    gains[:, -1] -= flows[:, 2]
    diagonal[:, -1] -= flow_slopes[:, 2, -1]


def _boil(
    celsius: Array, body: PotBody, loss: PotLoss, flows: Array, flow_slopes: Array,
    gains: Array, square: Array,
) -> None:  # fmt: skip
    """Carry off what boils: bubbles of the base condense in the liquid, all others leave."""
    above = celsius - loss.boiling_c[:, None]
    if not (above > 0).any():
        return
    rate = np.repeat((_BUBBLING * body.area)[:, None], NODES, axis=1)
    rate[:, 1:-1] /= SLICES
    rate = np.where(above > 0, rate, 0.0)
    away = rate * np.maximum(above, 0.0)
    gains -= away
    square.reshape(len(celsius), -1)[:, :: NODES + 1] -= rate
    gains[:, 1:-1] += away[:, :1] / SLICES
    square[:, 1:-1, 0] += rate[:, :1] / SLICES
    flows[:, 3], flow_slopes[:, 3, 1:] = away[:, 1:].sum(axis=1), rate[:, 1:]
    flows[:, 4] += flows[:, 3] / loss.latent
    flow_slopes[:, 4] += flow_slopes[:, 3] / loss.latent[:, None]


def _heat(
    celsius: Array, core: Array, base_layer: Array, body: PotBody, heat: PotHeat, loss: PotLoss,
    flows: Array, flow_slopes: Array, gains: Array, square: Array,
) -> Array:  # fmt: skip
    """Give the power of the hob, throttled by what the thermometer reads; return the reading."""
    near = np.exp(-heat.probe * base_layer / body.conductivity)
    reading = celsius[:, 1] + near * (celsius[:, 0] - celsius[:, 1])
    left = (heat.target_c + heat.band - reading) / heat.band
    flows[:, 0] = power = heat.power * np.clip(left, 0.0, 1.0)
    steer = np.where((left > 0) & (left < 1), -heat.power / heat.band, 0.0)
    flow_slopes[:, 0, 0], flow_slopes[:, 0, 1] = steer * near, steer * (1.0 - near)
    to_base = np.where(heat.is_direct, 0.0, 1.0)
    to_core = (1.0 - to_base) / SLICES
    gains[:, 0] += to_base * power
    gains[:, 1:-1] += (to_core * power)[:, None]
    for node in (0, 1):
        square[:, 0, node] += to_base * flow_slopes[:, 0, node]
        square[:, 1:-1, node] += (to_core * flow_slopes[:, 0, node])[:, None]
    if heat.is_steam.any():
        worth = loss.latent + body.heat_capacity * np.maximum(_STEAM_C - core, 0.0)
        flows[:, 5] = np.where(heat.is_steam, power / worth, 0.0)
        flow_slopes[:, 5] = np.where(heat.is_steam, 1.0 / worth, 0.0)[:, None] * flow_slopes[:, 0]
    return np.asarray(reading)
