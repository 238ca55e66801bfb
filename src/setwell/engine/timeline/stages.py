"""The stages of the work: lengths as stated, computed by pot and mold, or else assumed."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from setwell.domain.step_surroundings import is_out_of_pot
from setwell.domain.steps import Step, StepKind
from setwell.engine.heat.course import Course
from setwell.engine.heat.pouring import pour_step, pours
from setwell.engine.heat.results import CoolingResult, PotResult
from setwell.engine.history import PACE_FACTOR, history_read
from setwell.engine.process import batch_temperature
from setwell.engine.rules.bench import PRACTICE
from setwell.engine.timeline.handwork import least_minutes, weighing_minutes, work_minutes
from setwell.engine.timeline.results import Basis, Stage
from setwell.provenance import Estimate, Evidence

Lengths = tuple[float, float, float]

ROOM_C = 20.0
PACES = (1 / PACE_FACTOR, 1.0, PACE_FACTOR)
_SETTLING = frozenset({StepKind.CHILL, StepKind.COOL, StepKind.REST, StepKind.FREEZE})
_WARMING = frozenset({StepKind.HEAT, StepKind.BOIL})
# Said of a step that warms something else while the batch waits.
BESIDE = "In a second pot."
# A probe that shows this much less counts as there [°C].
_THERE_C = 0.5
# The moments that must have passed before a mold leaves the cold.
_DONE = ("set", "serve")


@dataclass(frozen=True, slots=True)
class _Span:
    """One step before it has a place on the clock: lengths from quick to slow."""

    lengths: Lengths
    begin_c: float
    end_c: float
    basis: Basis
    note: str = ""
    evidence: Evidence = PRACTICE


def stages_of(
    steps: tuple[Step, ...],
    *,
    lines: int,
    molds: int,
    pot: PotResult | None,
    cooling: CoolingResult | None,
) -> tuple[Stage, ...]:
    """Return the weighing and every step with its time."""
    spans = _assumed(steps, molds)
    if pot is not None:
        spans = _heated(steps, spans, pot)
    if cooling is not None:
        spans = _cooled(steps, spans, cooling)
    weighing = weighing_minutes(lines)
    first = Stage(
        0, "weigh", "Weigh everything and lay it out", _minutes((0, 0, 0), PRACTICE), weighing,
        ROOM_C, ROOM_C, weighing, Basis.ASSUMED,
    )  # fmt: skip
    found = [first] if lines else []
    clock = _lengths(weighing) if lines else (0.0, 0.0, 0.0)
    for number, (step, span) in enumerate(zip(steps, spans, strict=True), start=1):
        found.append(_stage(number, step, span, clock, molds))
        clock = _sum(clock, span.lengths)
    return tuple(found)


def _stage(number: int, step: Step, span: _Span, clock: Lengths, molds: int) -> Stage:
    return Stage(
        number, step.kind.value, " ".join(step.text.split()), _minutes(clock, PRACTICE),
        _minutes(span.lengths, span.evidence), span.begin_c, span.end_c,
        work_minutes(step, lasts=span.lengths, molds=molds), span.basis, span.note,
    )  # fmt: skip


def _assumed(steps: tuple[Step, ...], molds: int) -> list[_Span]:
    """Return every step with the paces of a usual kitchen; stated times count as stated."""
    ends = [_ends(steps, pace) for pace in PACES]
    spans = []
    begin = ROOM_C
    for n, step in enumerate(steps):
        if ends[1][n] == (ends[1][n - 1] if n else (0.0, ROOM_C)) and _is_beside(step, begin):
            spans.append(_beside(step, begin))
            continue
        least = least_minutes(step, molds=molds)
        lengths = [
            max(path[n][0] - (path[n - 1][0] if n else 0.0), 0.0, floor)
            for path, floor in zip(ends, least, strict=True)
        ]
        quick, middle, slow = lengths
        if step.kind is StepKind.REST and step.hold_min is not None:
            # "Leave for 1 h" ends after an hour, however warm it still is.
            quick = middle = slow = step.hold_min
        is_stated = step.hold_min is not None and abs(middle - step.hold_min) < 1e-9
        end = ends[1][n][1]
        basis = Basis.STATED if is_stated else Basis.ASSUMED
        spans.append(_Span((quick, middle, slow), begin, end, basis))
        begin = end
    return spans


def _is_beside(step: Step, now_c: float) -> bool:
    """Say whether a step warms something else than the batch: that is hotter already."""
    degrees = batch_temperature(step)
    return step.kind in _WARMING and degrees is not None and degrees < now_c


def _beside(step: Step, now_c: float) -> _Span:
    """Return a step in a second pot, from room temperature; the batch waits as it is."""
    quick, middle, slow = (history_read((step,), pace=pace).end for pace in PACES)
    return _Span((quick, middle, slow), now_c, now_c, Basis.ASSUMED, BESIDE)


def _ends(steps: tuple[Step, ...], pace: float) -> list[tuple[float, float]]:
    """Return when each step ends and how hot the batch is then; a second pot adds nothing."""
    batch: tuple[Step, ...] = ()
    ends = [(0.0, ROOM_C)]
    for step in steps:
        if _is_beside(step, ends[-1][1]):
            ends.append(ends[-1])
            continue
        batch = (*batch, step)
        ends.append(_end(batch, pace))
    return ends[1:]


def _end(steps: tuple[Step, ...], pace: float) -> tuple[float, float]:
    """Return when the last of some steps ends, and how hot the batch is then."""
    history = history_read(steps, pace=pace)
    return history.end, float(history.celsius[-1])


def _heated(steps: tuple[Step, ...], spans: list[_Span], pot: PotResult) -> list[_Span]:
    """Return the spans with the warming read from the course of the pot's core."""
    core = core_of(pot)
    found = list(spans)
    is_first = True
    poured = pour_step(steps)
    for n, (step, span) in enumerate(zip(steps, spans, strict=True)):
        if n > (len(steps) if poured is None else poured):
            break
        is_pot = step.kind in _WARMING and not is_out_of_pot(step)
        if not is_pot or span.end_c <= span.begin_c:
            continue
        begin = float(core.celsius[0]) if is_first else span.begin_c
        ramps = _ramps(core, None if is_first else begin, span.end_c)
        is_first = False
        if ramps is None:
            note = "The computed pot does not get there: see the pot."
            found[n] = _Span(span.lengths, begin, span.end_c, span.basis, note, span.evidence)
            continue
        # The time it stays there is what the step states, or a moment for a boil.
        stay = step.hold_min if step.hold_min is not None else float(step.kind is StepKind.BOIL)
        lengths = _sum(ramps, (stay, stay, stay))
        found[n] = _Span(lengths, begin, span.end_c, Basis.COMPUTED, "", core.evidence or PRACTICE)
    return found


def core_of(pot: PotResult) -> Course:
    """Return the course a probe in the middle of the pot shows."""
    named = next((one for one in pot.courses if one.place == "core"), None)
    return named or pot.courses[len(pot.courses) // 2]


def _ramps(course: Course, begin_c: float | None, end_c: float) -> Lengths | None:
    """Return the minutes from one temperature, or the start, to another, quick to slow."""
    paths = (course.high_c, course.celsius, course.low_c)
    lengths = [_passed(course, path, begin_c, end_c) for path in paths]
    quick, middle, slow = lengths
    if middle is None:
        return None
    # The slow end may never get there: then as much slower as an assumed kitchen is.
    slow = max(slow if slow is not None else middle * PACE_FACTOR, middle)
    return min(quick if quick is not None else middle, middle), middle, slow


def _passed(
    course: Course, path: NDArray[np.float64], begin_c: float | None, end_c: float
) -> float | None:
    start = None if begin_c is None else _reached(course.seconds, path, begin_c)
    end = _reached(course.seconds, path, end_c)
    if end is None:
        return None
    return max(end - (start or 0.0), 0.0) / 60.0


def _reached(
    seconds: NDArray[np.float64], path: NDArray[np.float64], degrees: float
) -> float | None:
    """Return when a rising path first comes up to a temperature [s]."""
    there = np.nonzero(path >= degrees - _THERE_C)[0]
    if not len(there):
        return None
    n = int(there[0])
    if n == 0:
        return float(seconds[0])
    share = (degrees - _THERE_C - path[n - 1]) / (path[n] - path[n - 1])
    return float(seconds[n - 1] + share * (seconds[n] - seconds[n - 1]))


def _cooled(steps: tuple[Step, ...], spans: list[_Span], cooling: CoolingResult) -> list[_Span]:
    """Return the spans with the time in the cold computed, or made long enough."""
    poured = _into_the_cold(steps)
    block = [n for n in range(poured + 1, len(steps)) if steps[n].kind in _SETTLING]
    needed = _needed(cooling)
    if not block or needed is None or any(map(pours, steps[block[-1] :])):
        return spans
    found = list(spans)
    last = block[-1]
    before = (0.0, 0.0, 0.0)
    for n in block[:-1]:
        before = _sum(before, spans[n].lengths)
    left = [max(a - b, 0.0) for a, b in zip(needed, before, strict=True)]
    # What a slow kitchen spent before it need not spend here; the wider range is the safe one.
    quick, middle, slow = min(left), left[1], max(left)
    stated = steps[last].hold_min
    span = spans[last]
    evidence = cooling.core.evidence or PRACTICE
    if stated is None:
        found[last] = _Span(
            (quick, middle, slow), span.begin_c, span.end_c, Basis.COMPUTED, "", evidence
        )
    elif slow > stated:
        note = "Longer than the step says: the core of the mold is not ready before."
        lengths = (max(quick, stated), max(middle, stated), slow)
        found[last] = _Span(
            lengths, span.begin_c, span.end_c, Basis.COMPUTED,
            note if middle > stated else "A slow cold place needs longer than the step says.",
            evidence,
        )  # fmt: skip
    else:
        lengths = (stated, stated, stated)
        found[last] = _Span(lengths, span.begin_c, span.end_c, Basis.STATED)
    return found


def _into_the_cold(steps: tuple[Step, ...]) -> int:
    """Return the step after which the batch is in its molds: the pour, else the last warming."""
    poured = next((n for n, step in enumerate(steps) if pours(step)), None)
    if poured is not None:
        return poured
    return max((n for n, step in enumerate(steps) if step.kind in _WARMING), default=-1)


def _needed(cooling: CoolingResult) -> Lengths | None:
    """Return when the slowest place is both set and cold enough to serve, quick to slow [min]."""
    moments = [
        moment.estimate
        for key in _DONE
        if (moment := cooling.moment(key)) is not None and moment.estimate is not None
    ]
    if not moments:
        return None
    lengths = [_lengths(one) for one in moments]
    quick, middle, slow = (max(one[n] for one in lengths) for n in range(3))
    return quick, middle, slow


def _lengths(estimate: Estimate) -> Lengths:
    """Return an estimate from quick to slow; an open end counts as a slow kitchen."""
    low = estimate.value if estimate.low is None else estimate.low
    high = estimate.value * PACE_FACTOR if estimate.high is None else estimate.high
    return min(low, estimate.value), estimate.value, max(high, estimate.value)


def _sum(one: Lengths, other: Lengths) -> Lengths:
    return one[0] + other[0], one[1] + other[1], one[2] + other[2]


def _minutes(lengths: Lengths, evidence: Evidence) -> Estimate:
    low, value, high = lengths
    return Estimate(value, "min", low, high, "times of the steps", evidence)
