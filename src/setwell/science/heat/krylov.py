"""Bodies that cool or warm, by one factorization of their matrix and a few dozen solutions."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.sparse import csc_array, csr_array, diags_array
from scipy.sparse.linalg import SuperLU, splu

from setwell.errors import ModelError, OutOfRangeError
from setwell.science.heat.ambient import Ambient
from setwell.science.heat.grid import Body, Place, Probe, Surroundings
from setwell.science.heat.lanczos import LanczosBasis

Array = NDArray[np.float64]
# One factorization serves times that spread up to this far; earlier ones get their own.
_REACH = 1000.0
# The shift is the last time over this times a power of how far the times spread: among those
# tried it needs the fewest vectors.
_SHIFT, _SPREAD = 10.0, 0.4
# Vectors between two looks at the readings, and the most of all.
_STRIDE, _MOST = 4, 200
# Times at which the readings are looked at, from either end.
_LOOKED = 12
# How much the change before the last one counts: one small change may be chance.
_BEFORE = 0.1


class BodyRun(NamedTuple):
    """What became of a body: readings (p, q) and states (s, m) [K], heat given off (p,) [J].

    `error` is how far the readings moved with the last vectors [K]; the true error is smaller.
    """

    readings: Array
    states: Array
    heat: Array
    error: float
    vectors: int


class _Drive(NamedTuple):
    """A vector that decays from the start and is pushed again as the surroundings change."""

    vector: Array
    decays: float
    changes: Ambient | None


def cool_body(
    body: Body,
    start: ArrayLike,
    *,
    surroundings: Surroundings | Mapping[str, Surroundings],
    seconds: ArrayLike,
    probes: Sequence[Place],
    tolerance: float = 0.003,
) -> Array:
    """Return the temperature at places of a body over time.

    Parameters
    ----------
    body : Body
        The body and its surface [J/K, W/K].
    start : array_like, scalar or shape (m,)
        Temperature of its cells at the time zero [K].
    surroundings : float, tuple, Ambient or mapping of str to these
        Temperature of the surroundings, as a broken line if it changes; by face if they differ
        [K].
    seconds : array_like, shape (p,)
        Times to read, in any order [s].
    probes : sequence of Probe or points
        Places to read [m].
    tolerance : float
        Error to stay below [K].

    Returns
    -------
    numpy.ndarray, shape (p, q)
        Temperature at each time and place [K].

    Raises
    ------
    InputError
        If a time is below zero, a shape does not fit or a place lies outside.

    Notes
    -----
    C dT/dt = -K T - G (T - u). With S = C^(-1/2) (K + G) C^(-1/2), the vectors are those of
    (I + g S)^-1, orthogonal to each other, and time is exact for each eigenvalue of the small
    matrix, along any broken line u too. More vectors, and shorter shifts g for early times, until
    the readings hold still within the tolerance. It holds for constant properties and
    coefficients; the error of the grid comes on top.

    References
    ----------
    eshof_hochbruck_2006
        Lanczos vectors of the shifted inverse for the exponential of a matrix.

    Examples
    --------
    >>> import numpy as np
    >>> from setwell.science.heat.body import ball_body
    >>> ball = ball_body(np.linspace(0, 0.015, 41), conductivity=0.55,
    ...     volumetric_heat=0.55 / 1.4e-7, surface=25.0)
    >>> cool_body(ball, 80.0, surroundings=2.0, seconds=[0, 931.76], probes=[(0.0,)]).round(1)
    array([[80.],
           [35.]])
    """
    return run_body(
        body, start, surroundings=surroundings, seconds=seconds, probes=probes, tolerance=tolerance
    ).readings


def run_body(
    body: Body,
    start: ArrayLike,
    *,
    surroundings: Surroundings | Mapping[str, Surroundings],
    seconds: ArrayLike,
    probes: Sequence[Place] = (),
    states_at: ArrayLike = (),
    tolerance: float = 0.003,
) -> BodyRun:
    """Return readings, whole states to go on from, and the heat given off.

    Parameters
    ----------
    body : Body
        The body and its surface [J/K, W/K].
    start : array_like, scalar or shape (m,)
        Temperature of its cells at the time zero [K].
    surroundings : float, tuple, Ambient or mapping of str to these
        Temperature of the surroundings, as a broken line if it changes; by face if they differ
        [K].
    seconds : array_like, shape (p,)
        Times to read, in any order [s].
    probes : sequence of Probe or points
        Places to read [m].
    states_at : array_like, shape (s,)
        Times at which the temperature of every cell is wanted [s].
    tolerance : float
        Error to stay below, of readings and states [K].

    Returns
    -------
    BodyRun
        Readings (p, q), states (s, m), heat given off since the start (p,) [K, J].

    Raises
    ------
    InputError
        If a time is below zero, a shape does not fit or a place lies outside.

    Notes
    -----
    Q(t) = sum over cells of ∫ G (T - u) dt, exact in time for each eigenvalue. A caller who
    changes a coefficient goes on from a state with the body resurfaced. It holds as for cool_body.

    References
    ----------
    eshof_hochbruck_2006
        Lanczos vectors of the shifted inverse for the exponential of a matrix.

    Examples
    --------
    >>> import numpy as np
    >>> from setwell.science.heat.body import ball_body
    >>> ball = ball_body(np.linspace(0, 0.015, 41), conductivity=0.55,
    ...     volumetric_heat=0.55 / 1.4e-7, surface=25.0)
    >>> run = run_body(ball, 80.0, surroundings=2.0, seconds=[900.0], states_at=[900.0])
    >>> stored = float(ball.capacity @ (80.0 - run.states[0]))
    >>> round(stored), round(float(run.heat[0]))
    (2752, 2752)
    """
    times, marks = _times(seconds), _times(states_at)
    lines = body.lines(surroundings)
    read = body.reading(probes)
    cells = _rows(read, body.size)
    steady = _steady_parts(body, lines)
    drives = _drives(body.start(start), steady)
    every = np.unique(np.concatenate([times, marks]))
    found, kept, error, vectors = _settled(body, drives, cells, every, marks, tolerance)
    at = every.searchsorted(times)
    readings, heat = found[at, :-1], found[at, -1] * body.capacity.sum()
    states = kept[np.unique(marks).searchsorted(marks)]
    for vector, line in steady:
        readings += line.at(times)[:, None] * np.asarray(cells @ vector)
        states += line.at(marks)[:, None] * vector
    for face, line in enumerate(lines):
        readings += line.at(times)[:, None] * np.array([probe.faces[face] for probe in read])
    return BodyRun(readings, states, heat, error, vectors)


def _settled(
    body: Body, drives: list[_Drive], cells: csr_array, times: Array, marks: Array, tolerance: float
) -> tuple[Array, Array, float, int]:
    """Return readings and heat (p, q + 1), states (s, m), the last change and the vectors used."""
    is_kept = np.isin(times, marks)
    is_open = times > 0.0
    found = np.zeros((len(times), cells.shape[0] + 1))
    states = np.zeros((int(is_kept.sum()), body.size))
    for drive in drives:
        found[~is_open, :-1] += drive.decays * (cells @ drive.vector)
        states[~is_open[is_kept]] += drive.decays * drive.vector
    error, vectors = 0.0, 0
    while is_open.any():
        last = float(times[is_open][-1])
        now = is_open & (times >= last / _REACH)
        attempt = _Attempt(body, drives, cells, times[now], is_kept[now])
        error = max(error, attempt.refine(tolerance))
        vectors += attempt.count
        found[now], states[now[is_kept]] = attempt.read(slice(None))
        is_open &= ~now
    return found, states, error, vectors


class _Attempt:
    """One factorization with vectors for all drives, read at some times."""

    def __init__(
        self,
        body: Body,
        drives: list[_Drive],
        cells: csr_array,
        times: Array,
        is_kept: NDArray[np.bool_],
    ) -> None:
        self.root = np.sqrt(body.capacity)
        shift = float(times[-1] / (_SHIFT * (times[-1] / times[0]) ** _SPREAD))
        solve = shifted_factors(body, shift).solve
        self.drives, self.times, self.is_kept = drives, times, is_kept
        self.bases = [LanczosBasis(solve, self.root * d.vector, shift=shift) for d in drives]
        self.cells = csr_array(cells @ diags_array(1.0 / self.root))
        self.flow = body.to_surroundings / body.capacity.sum() / self.root

    @property
    def count(self) -> int:
        """How many vectors there are."""
        return sum(basis.count for basis in self.bases)

    @property
    def is_complete(self) -> bool:
        """Whether the vectors hold everything, so that nothing is left to move."""
        return all(basis.is_complete for basis in self.bases)

    def refine(self, tolerance: float) -> float:
        """Grow until nothing moves at a choice of times; return how far anything moved last."""
        places = np.geomspace(1, len(self.times), _LOOKED).round().astype(int) - 1
        looked = np.unique(np.concatenate([places, len(self.times) - 1 - places]))
        count, change = 2 * _STRIDE, np.inf
        found, states = self.read(looked, count)
        while count < _MOST:
            before, states_before, change_before = found, states, change
            count += _STRIDE
            found, states = self.read(looked, count)
            moved = np.abs(states - states_before).max(initial=0.0)
            change = float(max(np.abs(found - before).max(), moved))
            if max(change, _BEFORE * change_before) <= tolerance or self.is_complete:
                return change
        raise ModelError(
            f"The temperatures still move by {change:.2g} K with {count} vectors.",
            hint="Use cells of more even size.",
        )

    def read(self, places: NDArray[np.intp] | slice, count: int = 0) -> tuple[Array, Array]:
        """Return readings and heat, and states, at some of the times with so many vectors."""
        times, is_kept = self.times[places], self.is_kept[places]
        found = np.zeros((len(times), self.cells.shape[0] + 1))
        states = np.zeros((int(is_kept.sum()), len(self.root)))
        for drive, basis in zip(self.drives, self.bases, strict=True):
            basis.grow(count)
            rates, mix = basis.spectrum()
            level, passed = _response(drive, rates, times)
            scale = basis.norm * mix[0] if len(rates) else np.zeros(0)
            shapes = (self.cells @ basis.vectors.T) @ mix
            # Too small a product to wait for a second processor, as a threaded one would.
            found[:, :-1] += np.einsum("pk,qk->pq", level * scale, shapes)
            found[:, -1] += passed @ (scale * (self.flow @ basis.vectors.T @ mix))
            if len(states):
                states += ((level[is_kept] * scale) @ mix.T) @ basis.vectors / self.root
        return found, states


def _rows(probes: list[Probe], size: int) -> csr_array:
    """Return how the cells count in each probe as a sparse matrix, shape (q, m)."""
    columns = [np.flatnonzero(probe.cells) for probe in probes]
    values = [probe.cells[column] for probe, column in zip(probes, columns, strict=True)]
    ends = np.cumsum([0, *(len(column) for column in columns)])
    empty = np.zeros(0)
    parts = (np.concatenate([empty, *values]), np.concatenate([empty.astype(int), *columns]), ends)
    return csr_array(parts, shape=(len(probes), size))


def _response(drive: _Drive, rates: Array, times: Array) -> tuple[Array, Array]:
    """Return each rate's part of a drive at each time, and its integral, shape (p, k)."""
    # What does not decay passes no heat to the surroundings either.
    slow = np.maximum(rates, 1e-30)
    faded = -np.expm1(-np.outer(times, slow))
    level = drive.decays * (1.0 - faded)
    passed = drive.decays * faded / slow
    if drive.changes is not None:
        lag = drive.changes.lag(rates, times)
        rise = drive.changes.at(times) - drive.changes.first
        level = level - lag
        passed = passed - np.where(rates > 1e-15, (rise[:, None] - lag) / slow, 0.0)
    return level, passed


def shifted_factors(body: Body, shift: float, *, is_shifted: bool = True) -> SuperLU:
    """Return the factors of I + g S, or of K + G itself.

    Parameters
    ----------
    body : Body
        The body and its surface [J/K, W/K].
    shift : float
        The shift g, above zero [s].
    is_shifted : bool
        Whether it is I + g S; otherwise the plain K + G without any scaling [-].

    Returns
    -------
    scipy.sparse.linalg.SuperLU
        The factors, whose `solve` takes vectors of cells [-].

    Notes
    -----
    S = C^(-1/2) (K + G) C^(-1/2). It holds for any body; K + G alone needs a face that lets heat
    through.

    References
    ----------
    eshof_hochbruck_2006
        The shifted inverse.

    Examples
    --------
    >>> from setwell.science.heat.body import ball_body
    >>> ball = ball_body([0, 0.01], conductivity=0.5, volumetric_heat=4e6, surface=8.0)
    >>> shifted_factors(ball, 60.0).shape
    (1, 1)
    """
    matrix = body.conductance.copy()
    diagonal = matrix.diagonal() + body.to_surroundings
    if is_shifted:
        root = 1.0 / np.sqrt(body.capacity)
        columns = np.repeat(root, np.diff(matrix.indptr))
        matrix.data *= shift * root[matrix.indices] * columns
        diagonal = 1.0 + shift * diagonal / body.capacity
    matrix.setdiag(diagonal)
    return splu(
        csc_array(matrix),
        permc_spec="MMD_AT_PLUS_A",
        diag_pivot_thresh=0.0,
        options={"SymmetricMode": True},
    )


def _steady_parts(body: Body, lines: list[Ambient]) -> list[tuple[Array, Ambient]]:
    """Return what the body would settle to for one kelvin at each face, with the face's line."""
    if all(line is lines[0] for line in lines) or not body.to_faces.any():
        return [(np.ones(body.size), lines[0])]
    solve = shifted_factors(body, 0.0, is_shifted=False).solve
    return [
        (np.asarray(solve(row)), line)
        for row, line in zip(body.to_faces, lines, strict=True)
        if row.any()
    ]


def _drives(begin: Array, steady: list[tuple[Array, Ambient]]) -> list[_Drive]:
    """Return the vectors that decay: the start, and whatever the surroundings push."""
    away = begin - sum(line.first * vector for vector, line in steady)
    pushed = [(vector, line) for vector, line in steady if not line.is_constant]
    if len(steady) == 1 and np.ptp(away) == 0.0:
        vector, line = steady[0]
        return [_Drive(vector, float(away[0]), line if pushed else None)]
    return [_Drive(away, 1.0, None), *(_Drive(vector, 0.0, line) for vector, line in pushed)]


def _times(seconds: ArrayLike) -> Array:
    times = np.atleast_1d(np.asarray(seconds, dtype=np.float64))
    if times.ndim != 1 or not np.isfinite(times).all() or np.any(times < 0):
        raise OutOfRangeError("Every time must be a number of zero or more seconds.")
    return times
