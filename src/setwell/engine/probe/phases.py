"""What a log shows of a batch: heating, holding and cooling."""

from itertools import pairwise

import numpy as np

from setwell.engine.heat.course import Course
from setwell.engine.probe.results import Array, LogPhase, PhaseKind

# A turn of the course counts from this much on [°C]; less is the hob going on and off.
_TURN_C = 5.0
# Within this much of a peak it holds [°C], if for so long [s].
_HOLD_C, _HOLD_S = 2.0, 60.0
# Points looked at: enough for every turn of a day.
_POINTS = 2_000


def phases_of(courses: tuple[Course, ...]) -> tuple[LogPhase, ...]:
    """Return the phases of a log, by the mean of its courses over the time all of them cover."""
    if not courses:
        return ()
    start = max(float(one.seconds[0]) for one in courses)
    end = min(float(one.seconds[-1]) for one in courses)
    if end <= start:
        return ()
    seconds = np.unique(np.concatenate([one.seconds for one in courses]))
    seconds = seconds[(seconds >= start) & (seconds <= end)]
    seconds = seconds[:: max(1, len(seconds) // _POINTS)]
    mean = np.mean([np.interp(seconds, one.seconds, one.celsius) for one in courses], axis=0)
    turns = _turns(mean)
    runs = [run for one, other in pairwise(turns) for run in _run(seconds, mean, one, other)]
    return _joined(runs)


def _turns(celsius: Array) -> list[int]:
    """Return where the course turns by more than a few degrees, both ends with them."""
    turns, low, high = [0], 0, 0
    rising: bool | None = None
    for at, value in enumerate(celsius):
        low = at if value < celsius[low] else low
        high = at if value > celsius[high] else high
        if rising is not False and celsius[high] - value >= _TURN_C and high < at:
            if rising and high != turns[-1]:
                turns.append(high)
            rising, low = False, at
        elif rising is not True and value - celsius[low] >= _TURN_C and low < at:
            if rising is False and low != turns[-1]:
                turns.append(low)
            rising, high = True, at
    last = len(celsius) - 1
    return [*turns, last] if turns[-1] != last else turns


def _run(seconds: Array, celsius: Array, first: int, last: int) -> list[LogPhase]:
    """Return one rise or fall with the holds at its ends."""
    begin, end = celsius[first], celsius[last]
    part = celsius[first : last + 1]
    if abs(end - begin) < _TURN_C:
        return [_phase(PhaseKind.HOLDING, seconds, celsius, first, last)]
    kind = PhaseKind.HEATING if end > begin else PhaseKind.COOLING
    leaves = first + int(np.flatnonzero(np.abs(part - begin) <= _HOLD_C)[-1])
    arrives = first + int(np.flatnonzero(np.abs(part - end) <= _HOLD_C)[0])
    if seconds[leaves] - seconds[first] < _HOLD_S:
        leaves = first
    if seconds[last] - seconds[arrives] < _HOLD_S:
        arrives = last
    cuts = [
        (PhaseKind.HOLDING, first, leaves),
        (kind, leaves, max(arrives, leaves)),
        (PhaseKind.HOLDING, max(arrives, leaves), last),
    ]
    return [_phase(one, seconds, celsius, a, b) for one, a, b in cuts if b > a]


def _phase(kind: PhaseKind, seconds: Array, celsius: Array, first: int, last: int) -> LogPhase:
    ends = (seconds[first], seconds[last], celsius[first], celsius[last])
    return LogPhase(kind, *(float(one) for one in ends))


def _joined(runs: list[LogPhase]) -> tuple[LogPhase, ...]:
    """Return the phases with holds that follow each other as one."""
    joined: list[LogPhase] = []
    for run in runs:
        if joined and joined[-1].kind is run.kind:
            before = joined.pop()
            run = LogPhase(run.kind, before.start_s, run.end_s, before.start_c, run.end_c)  # noqa: PLW2901
        joined.append(run)
    return tuple(joined)
