"""The course of a pot on a hob: base, liquid and surface over time, for many pots at once."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from setwell.science.heat.pot_contact import Contact, contact
from setwell.science.heat.pot_nodes import FLOWS, Moment, moment, thermometer
from setwell.science.heat.pot_parts import NODES, SLICES, PotBody, PotHeat, PotLoss, PotMotion

Array = NDArray[np.float64]

# Of the step scheme: damps what is stiff.
_GAMMA = 1.0 - np.sqrt(0.5)
_FIRST_S, _LEAST_S, _MOST_S = 2.0, 1e-3, 300.0
_GROWTH = 2.0
# Currents and bubbles take this long to follow a difference [s] (our judgment: one turn of the
# pot); no step takes more of the way.
_FOLLOWS_S, _MOST_SHARE = 8.0, 0.5
# A step may run so many bands past the target.
_PAST_BANDS = 1.0
# A pot that has boiled down to this share of its liquid is dry.
_DRY = 0.05
_EYE = np.eye(NODES)


class PotRun(NamedTuple):
    """p moments of n pots.

    `seconds` (p,), `celsius` (p, n, M) from base to surface, `reading` (p, n) of the thermometer,
    `flows` (p, n, 6) what has run since the start, by FLOWS [J, kg], `stored` (p, n) the heat
    taken up since the start [J].
    """

    seconds: Array
    celsius: Array
    reading: Array
    flows: Array
    stored: Array

    @property
    def base(self) -> Array:
        """The face of the base, where it scorches [°C]."""
        return np.asarray(self.celsius[:, :, 0])

    @property
    def core(self) -> Array:
        """The middle of the liquid [°C]."""
        middle = NODES // 2
        return np.asarray(self.celsius[:, :, middle - 1 : middle + 1].mean(axis=2))

    @property
    def surface(self) -> Array:
        """The surface [°C]."""
        return np.asarray(self.celsius[:, :, -1])

    def flow(self, name: str) -> Array:
        """Return what has run of one of FLOWS, (p, n)."""
        return np.asarray(self.flows[:, :, FLOWS.index(name)])


def pot_run(
    body: PotBody, heat: PotHeat, loss: PotLoss, motion: PotMotion, *, start_c: float,
    seconds: float, tolerance: float = 0.4,
) -> PotRun:  # fmt: skip
    """Return the course of n pots that start at one temperature throughout.

    Parameters
    ----------
    body : PotBody, shape (n,)
        The pots and what is in them [SI].
    heat : PotHeat, shape (n,)
        What heats them and to which reading [SI].
    loss : PotLoss, shape (n,)
        What they lose [SI].
    motion : PotMotion, shape (n,)
        How the liquid moves [SI].
    start_c : float
        Temperature at the start [°C].
    seconds : float
        How long it runs [s].
    tolerance : float
        How far a step may lie from one of lower order; the error itself is far smaller [K].

    Returns
    -------
    PotRun, shape (p, n)
        Temperatures and heat over time [s, °C, J, kg].

    Notes
    -----
    C dT/dt = G(T) T + P(T) − losses for base, six slices of liquid and surface, by a two-stage
    Rosenbrock scheme of second order that holds with approximate slopes and keeps the balance
    of heat exactly. Vapor leaves and steam joins at the temperature it finds, and the liquid's
    mass follows; its depth does not. Meant for liquids between 0 and 110 °C.

    References
    ----------
    verwer_1999
        The scheme, recalled.
    mcadams_1954
        Boundary layers.
    harriott_1959
        Scraped layers.

    Examples
    --------
    A liter of water, well stirred and without losses, takes up what it is given:

    >>> one, no = np.ones(1), np.zeros(1, dtype=bool)
    >>> body = PotBody(0.03 * one, 0 * one, 0.033 * one, 0.003 * one, one, 10 * one, 4180 * one,
    ...     0.6 * one)
    >>> heat = PotHeat(1000 * one, 200 * one, one, 0.005 * one, no, no)
    >>> loss = PotLoss(0.0, 100.0, np.zeros((1, 3)), np.zeros((1, 3)), 0 * one, 20 * one,
    ...     150 * one, 2.2e6 * one)
    >>> motion = PotMotion(0.0, 100.0, -5.0, 5.0, np.zeros((1, 2, 3)), 1708 * one, 2000 * one,
    ...     np.inf * one)
    >>> run = pot_run(body, heat, loss, motion, start_c=20.0, seconds=60.0)
    >>> float(run.stored[-1, 0].round()), float(run.core[-1, 0].round())
    (60000.0, 34.0)
    """
    count = len(body.mass)
    celsius = np.full((count, NODES), float(start_c))
    capacity = _capacities(body)
    totals, stored = np.zeros((count, len(FLOWS))), np.zeros(count)
    touch = contact(celsius, body, motion, loss.boiling_c)
    now = moment(celsius, touch, body, heat, loss)
    track = [(0.0, celsius, now.reading, totals, stored)]
    time, step, due = 0.0, _FIRST_S, motion.interval.copy()
    while time < seconds - 1e-9:
        ends = min(seconds, float(due.min()))
        step = min(step, _MOST_S, ends - time)
        after, flows, error = _advance(celsius, capacity, step, touch, now, body, heat, loss)
        error = max(error, tolerance * _past_target(after, touch, now, body, heat))
        if error > tolerance and step > _LEAST_S:
            step = max(step * max(0.9 * np.sqrt(tolerance / error), 0.2), _LEAST_S)
            continue
        stored = stored + (capacity * (after - celsius)).sum(axis=1)
        totals, celsius = totals + flows, after
        time = ends if ends - time - step < 1e-9 else time + step
        capacity = _follow(capacity, body, flows)
        step *= min(0.9 * np.sqrt(tolerance / max(error, 1e-9)), _GROWTH)
        if time >= due.min() - 1e-9:
            celsius, due = _stir_through(celsius, capacity, time, due, motion)
            track.append((time - 1e-6, after, now.reading, totals, stored))
            touch, step = contact(celsius, body, motion, loss.boiling_c), _FIRST_S
        # Motion takes a while to follow, or it and the difference would chase each other.
        taken = time - track[-1][0]
        share = min(1.0 - np.exp(-taken / _FOLLOWS_S), _MOST_SHARE)
        touch = touch.toward(contact(celsius, body, motion, loss.boiling_c), share)
        now = moment(celsius, touch, body, heat, loss)
        track.append((time, celsius, now.reading, totals, stored))
    return PotRun(*(np.array(part) for part in zip(*track, strict=True)))


def _capacities(body: PotBody) -> Array:
    """Return what each node holds per degree [J/K], (n, M)."""
    whole = body.mass * body.heat_capacity
    skin = whole * body.skin / body.depth
    held = np.empty((len(whole), NODES))
    held[:, 0], held[:, -1] = body.base_heat, skin
    held[:, 1:-1] = ((whole - skin) / SLICES)[:, None]
    return held


def _advance(
    celsius: Array, capacity: Array, step: float, touch: Contact, now: Moment, body: PotBody,
    heat: PotHeat, loss: PotLoss,
) -> tuple[Array, Array, float]:  # fmt: skip
    """Return temperatures and flows after one step, and how far off a lower order would be."""
    system = _EYE - (_GAMMA * step) * now.slopes / capacity[:, :, None]
    inverse = np.linalg.inv(system)
    first = (inverse @ (now.gains / capacity)[..., None])[..., 0]
    later = moment(celsius + step * first, touch, body, heat, loss, since=now)
    second = (inverse @ (later.gains / capacity - 2.0 * first)[..., None])[..., 0]

    def flowing(rates: Array, change: Array) -> Array:
        return np.asarray(rates + _GAMMA * step * (now.flow_slopes @ change[..., None])[..., 0])

    begin = flowing(now.flows, first)
    end = flowing(later.flows - 2.0 * begin, second)
    after = celsius + step * (1.5 * first + 0.5 * second)
    # What is stiff has settled and must not count.
    off = inverse @ (0.5 * step * (first + second))[..., None]
    error = float(np.abs(off).max())
    return after, step * (1.5 * begin + 0.5 * end), error


def _past_target(after: Array, touch: Contact, now: Moment, body: PotBody, heat: PotHeat) -> float:
    """Return how far a step runs past the target, over what it may: the hob has to follow."""
    reading = thermometer(after, touch, body, heat)
    past = reading - np.maximum(now.reading, heat.target_c - heat.band)
    return float(np.max(past / heat.band)) / _PAST_BANDS


def _follow(capacity: Array, body: PotBody, flows: Array) -> Array:
    """Return what the nodes hold once vapor has left and condensate has joined."""
    change = (flows[:, 5] - flows[:, 4]) * body.heat_capacity
    liquid = capacity[:, 1:-1].sum(axis=1)
    least = _DRY * body.mass * body.heat_capacity
    factor = np.maximum(liquid + change, least) / liquid
    held = capacity.copy()
    held[:, 1:-1] *= factor[:, None]
    return held


def _stir_through(
    celsius: Array, capacity: Array, time: float, due: Array, motion: PotMotion
) -> tuple[Array, Array]:
    """Return the pots whose turn it is at one temperature, and when each is due again."""
    turn = due <= time + 1e-9
    mean = (capacity * celsius).sum(axis=1) / capacity.sum(axis=1)
    mixed = np.where(turn[:, None], mean[:, None], celsius)
    return mixed, np.where(turn, due + motion.interval, due)
