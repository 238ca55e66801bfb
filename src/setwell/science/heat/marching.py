"""Bodies step by step, for coefficients and properties that depend on the temperature."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.sparse import csc_array, diags_array
from scipy.sparse.linalg import splu

from setwell.errors import ModelError, OutOfRangeError
from setwell.science.heat.ambient import Ambient
from setwell.science.heat.grid import Body, Place, Probe, Surroundings

Array = NDArray[np.float64]

# The two stages of a step share one matrix with this share of the step.
_GAMMA = 2.0 - np.sqrt(2.0)
_STAGE = _GAMMA / 2.0
_ERROR = (-3 * _GAMMA**2 + 4 * _GAMMA - 2) / (6 * (2 - _GAMMA))
# Shorter and shorter steps tried, and Newton's steps within one.
_ROUNDS, _NEWTON = 12, 40


class HeatCurve(NamedTuple):
    """Heat that some cells (m,) hold at rising temperatures (k,), with melting in it [K, J/m3]."""

    cells: NDArray[np.bool_]
    kelvin: Array
    heat: Array


@dataclass(frozen=True, slots=True)
class Laws:
    """What changes with the temperature; whatever is left out stays as the body has it.

    `coefficient` gets a face, its surface temperatures and the air there and returns coefficients
    [W/m2K]; `conductivity` gets all cells (m,) and returns theirs [W/mK].
    """

    coefficient: Callable[[str, Array, float], ArrayLike] | None = None
    conductivity: Callable[[Array], Array] | None = None
    curves: tuple[HeatCurve, ...] = ()


class MarchRun(NamedTuple):
    """Readings (p, q) and all cells at the last time (m,) [K], the heat given off [J], steps."""

    readings: Array
    state: Array
    heat: float
    steps: int


def march_body(
    body: Body,
    start: ArrayLike,
    *,
    surroundings: Surroundings | Mapping[str, Surroundings],
    seconds: ArrayLike,
    probes: Sequence[Place],
    laws: Laws,
    tolerance: float = 0.003,
) -> MarchRun:
    """Return the temperature at places of a body whose properties or surface change with it.

    Parameters
    ----------
    body : Body
        The body and its surface at the start [J/K, W/K].
    start : array_like, scalar or shape (m,)
        Temperature of its cells at the time zero [K].
    surroundings : float, tuple, Ambient or mapping of str to these
        Temperature of the surroundings, as for cool_body [K].
    seconds : array_like, shape (p,)
        Times to read, rising [s].
    probes : sequence of Probe or points
        Places to read [m].
    laws : Laws
        What depends on the temperature [W/m2K, W/mK, J].
    tolerance : float
        Error allowed in one step, root mean square of the cells [K].

    Returns
    -------
    MarchRun
        Readings (p, q), the last state (m,), the heat given off and the steps [K, J].

    Raises
    ------
    InputError
        If times do not rise from zero or a shape does not fit.
    ModelError
        If the steps become too small to go on.

    Notes
    -----
    dE/dt = -K T - G (T - u), by the trapezoidal rule over 2 - sqrt(2) of a step and the backward
    difference of second order over the rest; both are solved for the heat E by Newton's steps, so
    that none is lost. Coefficients and conductivities are those of the middle of the step,
    foreseen from its beginning. Valid for laws that are steady in the temperature; a sharp
    melting point wants a band of a few hundredths of a kelvin in its curve.

    References
    ----------
    hosea_shampine_1996
        The method and the estimate of its error.

    Examples
    --------
    >>> import numpy as np
    >>> from setwell.science.heat.body import ball_body
    >>> ball = ball_body(np.linspace(0, 0.015, 31), conductivity=0.55,
    ...     volumetric_heat=0.55 / 1.4e-7, surface=25.0)
    >>> run = march_body(ball, 80.0, surroundings=2.0, seconds=[0, 931.76], probes=[(0.0,)],
    ...     laws=Laws(coefficient=lambda face, surface, air: 25.0))
    >>> run.readings.round(1)
    array([[80.],
           [35.]])
    """
    times = np.asarray(seconds, dtype=np.float64)
    if times.ndim != 1 or not times.size or times[0] < 0 or np.any(np.diff(times) < 0):
        raise OutOfRangeError("The times to read must rise from zero or more seconds.")
    march = _March(body, body.lines(surroundings), laws, body.start(start))
    reader = body.reading(probes)
    readings = np.zeros((len(times), len(reader)))
    last = float(times[-1])
    stops = [bend for bend in march.bends if bend < last] + [last]
    done = 0
    for stop in stops:
        while march.time < stop:
            step = march.onward(stop, tolerance)
            while done < len(times) and times[done] < step.end:
                at = float(times[done])
                readings[done] = march.read(reader, at, step.at(at))
                done += 1
    for place in range(done, len(times)):
        readings[place] = march.read(reader, float(times[place]), march.cells)
    return MarchRun(readings, march.cells, march.heat, march.steps)


class _Step(NamedTuple):
    """A step with its stage in between: the parabola through the three is read."""

    begin: float
    end: float
    first: Array
    middle: Array
    last: Array

    def at(self, time: float) -> Array:
        """Return all cells at a time within the step."""
        x, g = (time - self.begin) / (self.end - self.begin), _GAMMA
        early = self.first * ((x - g) * (x - 1) / g)
        return np.asarray(
            early
            + self.middle * (x * (x - 1) / (g * (g - 1)))
            + self.last * (x * (x - g) / (1 - g))
        )


class _Store:
    """How heat and temperature of the cells belong together."""

    def __init__(self, body: Body, curves: tuple[HeatCurve, ...]) -> None:
        self.capacity, self.curves = body.capacity, curves
        self.volume = body.volume
        for curve in curves:
            if np.any(np.diff(curve.kelvin) <= 0) or np.any(np.diff(curve.heat) <= 0):
                raise OutOfRangeError("Along a heat curve temperature and heat must both rise.")

    def heat(self, cells: Array) -> Array:
        """Return the heat in each cell [J]."""
        held = self.capacity * cells
        for curve in self.curves:
            dense, _ = _along(cells[curve.cells], curve.kelvin, curve.heat)
            held[curve.cells] = dense * self.volume[curve.cells]
        return np.asarray(held)

    def temperature(self, heat: Array) -> tuple[Array, Array]:
        """Return the temperature of each cell and how it rises with its heat [K, K/J]."""
        cells, rise = heat / self.capacity, 1.0 / self.capacity
        for curve in self.curves:
            size = self.volume[curve.cells]
            found, slope = _along(heat[curve.cells] / size, curve.heat, curve.kelvin)
            cells[curve.cells], rise[curve.cells] = found, slope / size
        return cells, rise


def _along(at: Array, x: Array, y: Array) -> tuple[Array, Array]:
    """Return a broken line and its slope; its ends go on straight."""
    part = np.clip(x.searchsorted(at) - 1, 0, len(x) - 2)
    slope = (np.diff(y) / np.diff(x))[part]
    return y[part] + slope * (at - x[part]), slope


class _March:
    """A body on its way."""

    def __init__(self, body: Body, lines: list[Ambient], laws: Laws, cells: Array) -> None:
        self.body, self.lines, self.laws, self.cells = body, lines, laws, cells
        self.store = _Store(body, laws.curves)
        self.time, self.heat, self.steps, self.width = 0.0, 0.0, 0, 0.0
        self.slope = np.zeros_like(cells)
        self.bends = sorted({float(t) for line in lines for t in line.seconds if t > 0.0})

    def read(self, probes: list[Probe], time: float, cells: Array) -> Array:
        """Return what the probes show."""
        air = self._air(time)
        return np.array([probe.cells @ cells + probe.faces @ air for probe in probes])

    def onward(self, stop: float, tolerance: float) -> _Step:
        """Take one step within the tolerance, to the stop at most."""
        if self.time == 0.0 or self.time in self.bends:
            # Whatever came before says nothing of what comes after a bend.
            self.width, self.slope = self._first_width(tolerance), np.zeros_like(self.cells)
        for _ in range(_ROUNDS):
            left = stop - self.time
            # No sliver is left before the stop.
            width = left if self.width >= left else min(self.width, left / 2)
            end = stop if width == left else self.time + width
            self._renew(self.cells + self.slope * width / 2, self.time + width / 2)
            step, heat, error = self._attempt(end)
            self.width = width * float(
                np.clip(0.9 * (tolerance / max(error, 1e-12)) ** (1 / 3), 0.2, 3.0)
            )
            if error <= tolerance:
                self.slope = (step.last - step.first) / width
                self.time, self.cells, self.heat = end, step.last, self.heat + heat
                self.steps += 1
                return step
        raise ModelError("The steps have become too small to go on.")

    def _air(self, time: float) -> Array:
        return np.array([line.at(time) for line in self.lines])

    def _flow(self, cells: Array, air: Array) -> Array:
        """Return the heat that leaves each cell [W]."""
        inside = self.body.conductance @ cells
        return np.asarray(inside + self.body.to_surroundings * cells - air @ self.body.to_faces)

    def _first_width(self, tolerance: float) -> float:
        """Return a first step in which the quickest cell moves but little."""
        self._renew(self.cells, self.time)
        heat = self.store.heat(self.cells)
        flow = self._flow(self.cells, self._air(self.time))
        fastest = float(np.abs(flow * self.store.temperature(heat)[1]).max())
        return float(min(60.0, np.sqrt(tolerance) / max(fastest, 1e-9)))

    def _renew(self, cells: Array, time: float) -> None:
        """Take coefficients and conductivities from the temperatures given."""
        if self.laws.conductivity is not None:
            self.body = self.body.reconducted(self.laws.conductivity(cells))
        if self.laws.coefficient is not None:
            found = {}
            for name, row, air in zip(
                self.body.faces, self.body.to_faces, self._air(time), strict=True
            ):
                if row.any():
                    surface = self.body.at_face(name, cells, float(air))
                    found[name] = self.laws.coefficient(name, surface, float(air))
            self.body = self.body.resurfaced(found)

    def _attempt(self, end: float) -> tuple[_Step, float, float]:
        """Return a step, the heat given off in it, and its error."""
        width, between = end - self.time, self.time + _GAMMA * (end - self.time)
        # At a jump the step still ends with the air from before.
        airs = [self._air(self.time), self._air(between), self._air(float(np.nextafter(end, 0.0)))]
        held = self.store.heat(self.cells)
        flow = self._flow(self.cells, airs[0])
        solve = _Solver(self, _STAGE * width)
        middle_heat = solve(held - _STAGE * width * flow, airs[1], held)
        middle = self.store.temperature(middle_heat)[0]
        middle_flow = self._flow(middle, airs[1])
        share = 1.0 / (_GAMMA * (2 - _GAMMA))
        last_heat = solve(share * middle_heat + (1.0 - share) * held, airs[2], middle_heat)
        last = self.store.temperature(last_heat)[0]
        last_flow = self._flow(last, airs[2])
        g = _GAMMA
        off = width * _ERROR * (flow / g - middle_flow / (g * (1 - g)) + last_flow / (1 - g))
        error = float(np.sqrt(np.mean(solve.softened(off) ** 2)))
        weights = (1 / (2 * (2 - g)), 1 / (2 * (2 - g)), _STAGE)
        given = width * sum(
            w * f.sum() for w, f in zip(weights, (flow, middle_flow, last_flow), strict=True)
        )
        return _Step(self.time, end, self.cells, middle, last), float(given), error


class _Solver:
    """Solves E + w (K T(E) + G (T(E) - u)) = r; the factors are kept while the slopes hold."""

    def __init__(self, march: _March, weight: float) -> None:
        self.body, self.store, self.weight = march.body, march.store, weight
        self.matrix = self.body.conductance.copy()
        self.matrix.setdiag(self.matrix.diagonal() + self.body.to_surroundings)
        self.rise = np.zeros(0)

    def __call__(self, right: Array, air: Array, guess: Array) -> Array:
        """Return the heat of each cell [J]."""
        right = right + self.weight * (air @ self.body.to_faces)
        heat = guess
        for _ in range(_NEWTON):
            cells, rise = self.store.temperature(heat)
            off = heat + self.weight * (self.matrix @ cells) - right
            self._factor(rise)
            change = self.factors.solve(off)
            heat = heat - change
            if np.abs(change * rise).max() < 1e-9 * (1.0 + np.abs(cells).max()):
                return np.asarray(heat)
        raise ModelError("The heat of a step was not found.", hint="Widen the band of melting.")

    def softened(self, off: Array) -> Array:
        """Return an error of heat as one of temperature, the stiff parts damped [K]."""
        return np.asarray(self.rise * self.factors.solve(off))

    def _factor(self, rise: Array) -> None:
        if np.array_equal(rise, self.rise):
            return
        scaled = csc_array(self.matrix @ diags_array(self.weight * rise))
        scaled.setdiag(scaled.diagonal() + 1.0)
        self.rise = rise
        self.factors = splu(
            scaled,
            permc_spec="MMD_AT_PLUS_A",
            diag_pivot_thresh=0.0,
            options={"SymmetricMode": True},
        )
