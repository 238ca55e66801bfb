"""March a body through cold air: exact in time, with the coefficient renewed as it cools."""

import itertools
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from setwell.engine.heat.directions import Direction, SmallBody

Array = NDArray[np.float64]

# Stretches of time with one surface coefficient each, and how often each is settled.
STRETCHES, _ROUNDS = 14, 2

# Heat passed by a face [W/m2K], from its name, its temperature and that of the air [°C], and from
# when the stretch began [s].
Passing = Callable[[str, float, float, float], float]


@dataclass(frozen=True, slots=True)
class Surroundings:
    """The air a mold stands in: `levels_c` (s,) from the times `begins` (s,) [s] on."""

    begins: Array
    levels_c: Array

    def level_at(self, seconds: float) -> float:
        """Return the air at one time."""
        return float(self.levels_c[np.searchsorted(self.begins, seconds, side="right") - 1])


@dataclass(frozen=True, slots=True)
class Marched:
    """Temperatures at `seconds` (p,): of the slowest place, of the skin and of the whole [°C]."""

    seconds: Array
    core: Array
    surface: Array
    mean: Array


def march(
    body: SmallBody,
    *,
    start_c: float,
    air: Surroundings,
    passing: Passing,
    seconds: Array,
    is_steady: bool = False,
    stretches: int = STRETCHES,
) -> Marched:
    """Return the course of a body poured at one temperature.

    Within a stretch the coefficients stay and the answer is exact; they are taken at the mean of
    each face over the stretch. `is_steady` tells that they never change; fewer `stretches` are
    quicker and less exact.
    """
    edges = _edges(air, float(seconds[-1]), stretches=1 if is_steady else stretches)
    state = _State(body, start_c)
    core, surface, mean = (np.empty(len(seconds)) for _ in range(3))
    cools = start_c >= float(air.levels_c.min())
    for begin, end in itertools.pairwise(edges):
        state.meet(air.level_at(begin))
        modes = _settled(state, passing, (begin, end), is_steady=is_steady)
        inside = (seconds >= begin) & ((seconds < end) | (end == edges[-1]))
        times = seconds[inside] - begin
        along = [mode.courses(times) for mode in modes]
        places = state.read(along, modes, body.core)
        core[inside] = places.max(axis=1) if cools else places.min(axis=1)
        surface[inside] = state.read(along, modes, body.surface)[:, 0]
        mean[inside] = state.read(along, modes, body.mean)[:, 0]
        state.go_on(modes, end - begin)
    return Marched(seconds, *(_settled_course(one, start_c, air) for one in (core, surface, mean)))


def _settled_course(celsius: Array, start_c: float, air: Surroundings) -> Array:
    """Return a course without the ripple that polynomials leave in the first moments.

    No place gets warmer or colder than the start and the air. In air that never warms up, what
    cools never warms either: a dip is lifted to what comes after it, which is the safe side.
    """
    levels = air.levels_c
    ends = min(start_c, float(levels.min())), max(start_c, float(levels.max()))
    held = np.clip(celsius, *ends)
    if start_c < levels[0] or (np.diff(levels) > 0).any():
        return held
    return np.asarray(np.maximum.accumulate(held[::-1])[::-1])


def _edges(air: Surroundings, end: float, *, stretches: int) -> list[float]:
    """Return where the stretches begin and end: short ones after each change of the air."""
    end = max(end, 1.0)
    changes = [float(t) for t in air.begins if t < end] + [end]
    if stretches == 1 or len(changes) > stretches:
        return changes
    share = (np.arange(stretches) / stretches) ** 2
    found: list[float] = []
    for begin, until in itertools.pairwise(changes):
        found += (begin + share * (until - begin)).tolist()
    return [*found, end]


class _Mode:
    """One direction over one stretch, in its own modes."""

    def __init__(self, direction: Direction, coefficients: dict[str, float], start: Array) -> None:
        matrix = direction.conduction + sum(
            (coefficients[name] * face for name, face in direction.faces.items()),
            np.zeros_like(direction.conduction),
        )
        self.rates, self.shapes = np.linalg.eigh(matrix)
        self.begin = self.shapes.T @ start

    def courses(self, times: Array) -> Array:
        """Return what is left of each mode at the times, (p, r)."""
        return np.asarray(np.exp(-np.outer(times, np.maximum(self.rates, 0.0))))

    def after(self, seconds: float) -> Array:
        """Return the coordinates at the end of the stretch, one column per step of the air."""
        left = np.exp(-np.maximum(self.rates, 0.0) * seconds)
        return np.asarray(self.shapes @ (left[:, None] * self.begin))


class _State:
    """The body between two stretches.

    Every step of the air starts a response of its own; each is a product of its directions, and
    the temperature is the air plus their sum.
    """

    def __init__(self, body: SmallBody, start_c: float) -> None:
        self.body = body
        self.air_c = start_c
        self.weights: list[float] = []
        self.columns = [np.empty((len(one.start), 0)) for one in body.directions]

    def meet(self, air_c: float) -> None:
        """Let the air step to another temperature."""
        if air_c != self.air_c or not self.weights:
            self.weights.append(self.air_c - air_c)
            self.columns = [
                np.column_stack([columns, one.start])
                for columns, one in zip(self.columns, self.body.directions, strict=True)
            ]
        self.air_c = air_c

    def read(self, along: list[Array], modes: list[_Mode], rows: tuple[Array, ...]) -> Array:
        """Return temperatures at the times of `along`, (p, places)."""
        product: Array | None = None
        for course, mode, row in zip(along, modes, rows, strict=True):
            part = (course[:, None, :] * (row @ mode.shapes)) @ mode.begin
            product = part if product is None else product * part
        return np.asarray(self.air_c + np.asarray(product) @ np.array(self.weights))

    def faces_c(self, columns: list[Array]) -> dict[str, float]:
        """Return the mean temperature of each face."""
        return {name: self._now(columns, rows) for name, rows in self.body.faces.items()}

    def _now(self, columns: list[Array], rows: tuple[Array, ...]) -> float:
        product = np.array(self.weights)
        for column, row in zip(columns, rows, strict=True):
            product = product * (row @ column)[0]
        return self.air_c + float(product.sum())

    def modes(self, coefficients: dict[str, float]) -> list[_Mode]:
        """Return the directions under these coefficients."""
        return [
            _Mode(one, coefficients, columns)
            for one, columns in zip(self.body.directions, self.columns, strict=True)
        ]

    def go_on(self, modes: list[_Mode], seconds: float) -> None:
        """Move to the end of a stretch."""
        self.columns = [mode.after(seconds) for mode in modes]


def _settled(
    state: _State, passing: Passing, between: tuple[float, float], *, is_steady: bool
) -> list[_Mode]:
    """Return the modes of a stretch under the coefficients at its mean face temperatures."""
    begin, seconds = between[0], between[1] - between[0]
    before = state.faces_c(state.columns)
    skin = before
    modes: list[_Mode] = []
    for _ in range(1 if is_steady else _ROUNDS):
        bare = {name: passing(name, skin[name], state.air_c, begin) for name in skin}
        behind = {name: 1.0 / (1.0 + h * state.body.resistances[name]) for name, h in bare.items()}
        modes = state.modes({name: h * behind[name] for name, h in bare.items()})
        after = state.faces_c([mode.after(seconds) for mode in modes])
        # What the air meets lies beyond the wall.
        skin = {
            name: state.air_c + behind[name] * ((before[name] + after[name]) / 2.0 - state.air_c)
            for name in before
        }
    return modes
