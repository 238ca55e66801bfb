"""The heat that runs between the parts of a heated pot at one moment."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from setwell.science.heat.pot_contact import Contact
from setwell.science.heat.pot_parts import NODES, SLICES, PotBody, PotHeat, PotLoss

Array = NDArray[np.float64]

# Bubbles carry off nearly everything above the boiling point: at the base, and in the liquid
# [W/m2K].
_BUBBLING, _ROLLING = 5_000.0, 30_000.0
_STEAM_C = 100.0
# Least share of the base in what the hob is throttled by [-].
_WATCHED = 0.03
# Power falls from 95 to 5 % within the band.
_FEEL = 4.0
# Power in [W], heat lost at side and surface [W], heat of boiling [W], vapor and condensate [kg/s].
FLOWS = ("power", "side", "top", "boiling", "vapor", "condensate")


class Moment(NamedTuple):
    """Heat flows at one moment.

    `gains` (n, M) [W] and `slopes` (n, M, M) [W/K] are those of the nodes, `flows` (n, 6) those
    of FLOWS with their `flow_slopes` (n, 6, M), `reading` (n,) what the thermometer shows, all at
    `celsius` (n, M).
    """

    celsius: Array

    gains: Array
    slopes: Array
    flows: Array
    flow_slopes: Array
    reading: Array


def moment(
    celsius: Array,
    touch: Contact,
    body: PotBody,
    heat: PotHeat,
    loss: PotLoss,
    *,
    since: "Moment | None" = None,
) -> Moment:
    """Return the heat gained by each node (n, M) [W], and how it changes per kelvin (n, M, M).

    Parameters
    ----------
    celsius : ndarray, shape (n, M)
        Temperatures from the base to the surface [°C].
    touch : Contact, shape (n, M - 1)
        How well neighbors pass heat on [W/K].
    body : PotBody, shape (n,)
        The pots [SI].
    heat : PotHeat, shape (n,)
        What heats them [SI].
    loss : PotLoss, shape (n,)
        What they lose [SI].
    since : Moment, shape (n, M)
        An earlier moment of the same step, from which the power goes on in a straight line [SI].

    Returns
    -------
    Moment, shape (n, M)
        Heat flows and their slopes [W, W/K].

    Notes
    -----
    C dT/dt = q_in − q_out for each node, with the power steered by what the thermometer reads:
    T_core + (T_base − T_core) e^(−z h/k) at a height z above the base. Meant for one step.

    References
    ----------
    common_practice
        A balance of heat; the reading of the thermometer is our own form.

    Examples
    --------
    See `pot_run`, which takes these steps.

    >>> len(FLOWS)
    6
    """
    n = len(celsius)
    core, conduct = celsius[:, 1:-1].mean(axis=1), touch.conduct
    now = Moment(
        celsius,
        np.zeros((n, NODES)), np.zeros((n, NODES, NODES)), np.zeros((n, len(FLOWS))),
        np.zeros((n, len(FLOWS), NODES)), np.zeros(n),
    )  # fmt: skip
    gains, slopes = now.gains, now.slopes.reshape(n, -1)
    flow = conduct * (celsius[:, :-1] - celsius[:, 1:])
    gains[:, :-1] -= flow
    gains[:, 1:] += flow
    diagonal, upper, lower = (slopes[:, start :: NODES + 1] for start in (0, 1, NODES))
    diagonal[:, :-1] -= conduct
    diagonal[:, 1:] -= conduct
    upper[:, : NODES - 1] += conduct
    lower[:, : NODES - 1] += conduct
    _lose(celsius, body, loss, now)
    _boil(celsius, body, loss, now)
    _heat(celsius, touch.base, body, heat, now, since)
    if heat.is_steam.any():
        _condense(core, body, heat, loss, now)
    return now


def thermometer(celsius: Array, touch: Contact, body: PotBody, heat: PotHeat) -> Array:
    """Return what a thermometer near the base shows.

    Parameters
    ----------
    celsius : ndarray, shape (n, M)
        Temperatures from the base to the surface [°C].
    touch : Contact, shape (n, M - 1)
        How well neighbors pass heat on [W/K].
    body : PotBody, shape (n,)
        The pots [SI].
    heat : PotHeat, shape (n,)
        What heats them, and where the thermometer stands [SI].

    Returns
    -------
    numpy.ndarray, shape (n,)
        Reading [°C].

    Notes
    -----
    T = T_1 + (T_base − T_1) e^(−z h/k) at a height z above the base, where h is that of the layer
    at the base. Meant for the lowest centimeter.

    References
    ----------
    common_practice
        The form is our own.

    Examples
    --------
    See `pot_run`, which steers the hob by it.

    >>> len(FLOWS)
    6
    """
    near = np.exp(-heat.probe * touch.base / body.conductivity)
    return np.asarray(celsius[:, 1] + near * (celsius[:, 0] - celsius[:, 1]))


def _lose(celsius: Array, body: PotBody, loss: PotLoss, now: Moment) -> None:
    """Take what side and surface lose from the nodes."""
    part = (loss.side * body.side_area / SLICES)[:, None]
    away = part * (celsius[:, 1:-1] - loss.room_c[:, None])
    diagonal = now.slopes.reshape(len(celsius), -1)[:, :: NODES + 1]
    now.gains[:, 1:-1] -= away
    diagonal[:, 1:-1] -= part
    now.flows[:, 1], now.flow_slopes[:, 1, 1:-1] = away.sum(axis=1), part
    place = (celsius[:, -1] - loss.first_c) / loss.step_c
    i = np.clip(place, 0.0, loss.flux.shape[1] - 2).astype(np.intp)
    row, share = np.arange(len(celsius)), place - i
    for table, number in ((loss.flux, 2), (loss.vapor, 4)):
        rise = table[row, i + 1] - table[row, i]
        now.flows[:, number] = body.area * (table[row, i] + share * rise)
        now.flow_slopes[:, number, -1] = body.area * rise / loss.step_c
    now.gains[:, -1] -= now.flows[:, 2]
    diagonal[:, -1] -= now.flow_slopes[:, 2, -1]


def _boil(celsius: Array, body: PotBody, loss: PotLoss, now: Moment) -> None:
    """Carry off what boils: bubbles of the base condense in the liquid, all others leave."""
    above = celsius - loss.boiling_c[:, None]
    if not (above > 0).any():
        return
    rate = np.repeat((_ROLLING * body.area)[:, None], NODES, axis=1)
    rate[:, 0] *= _BUBBLING / _ROLLING
    rate[:, 1:-1] /= SLICES
    rate = np.where(above > 0, rate, 0.0)
    away = rate * np.maximum(above, 0.0)
    now.gains[:] -= away
    now.slopes.reshape(len(celsius), -1)[:, :: NODES + 1] -= rate
    now.gains[:, 1:-1] += away[:, :1] / SLICES
    now.slopes[:, 1:-1, 0] += rate[:, :1] / SLICES
    now.flows[:, 3], now.flow_slopes[:, 3, 1:] = away[:, 1:].sum(axis=1), rate[:, 1:]
    now.flows[:, 4] += now.flows[:, 3] / loss.latent
    now.flow_slopes[:, 4] += now.flow_slopes[:, 3] / loss.latent[:, None]


def _heat(
    celsius: Array,
    base_layer: Array,
    body: PotBody,
    heat: PotHeat,
    now: Moment,
    since: Moment | None,
) -> None:
    """Read the thermometer, and give the power that it asks for."""
    rise = celsius[:, 0] - celsius[:, 1]
    near = np.exp(-heat.probe * base_layer / body.conductivity)
    now.reading[:] = celsius[:, 1] + near * rise
    # Who heats watches the base as well; without it the hob would swing on and off.
    seen = np.maximum(near, _WATCHED)
    if since is None:
        place = _FEEL * (celsius[:, 1] + seen * rise - heat.target_c) / heat.band
        root = np.sqrt(1.0 + place * place)
        now.flows[:, 0] = power = heat.power * 0.5 * (1.0 - place / root)
        steer = -0.5 * heat.power / root**3 * _FEEL / heat.band
    else:
        slope = since.flow_slopes[:, 0]
        change = (slope * (celsius - since.celsius)).sum(axis=1)
        now.flows[:, 0] = power = since.flows[:, 0] + change
        steer = slope[:, 0] + slope[:, 1]
    slopes = now.flow_slopes[:, 0]
    slopes[:, 0], slopes[:, 1] = steer * seen, steer * (1.0 - seen)
    to_base = np.where(heat.is_direct, 0.0, 1.0)
    to_core = (1.0 - to_base) / SLICES
    now.gains[:, 0] += to_base * power
    now.gains[:, 1:-1] += (to_core * power)[:, None]
    for node in (0, 1):
        now.slopes[:, 0, node] += to_base * slopes[:, node]
        now.slopes[:, 1:-1, node] += (to_core * slopes[:, node])[:, None]


def _condense(core: Array, body: PotBody, heat: PotHeat, loss: PotLoss, now: Moment) -> None:
    """Count the water that live steam leaves in the pot."""
    worth = loss.latent + body.heat_capacity * np.maximum(_STEAM_C - core, 0.0)
    share = np.where(heat.is_steam, 1.0 / worth, 0.0)
    now.flows[:, 5] = share * now.flows[:, 0]
    now.flow_slopes[:, 5] = share[:, None] * now.flow_slopes[:, 0]
