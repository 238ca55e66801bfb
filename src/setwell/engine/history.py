"""The temperature of the batch over time, as far as the steps tell it."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from setwell.domain.steps import Step, StepKind
from setwell.engine.process import batch_temperature

Array = NDArray[np.float64]

# How fast a kitchen pot warms and cools when nobody says, in °C per minute, and how long a
# handling step takes, in minutes: middle, and the factor either way (common practice, no source).
_WARMS_C_MIN, _COOLS_C_MIN, _CHILLS_C_MIN, _HANDLING_MIN = 5.0, 2.0, 0.7, 2.0
PACE_FACTOR = 2.5
_START_C = 20.0
_FRIDGE_C, _FREEZER_C = 4.0, -18.0
_SETTLING = frozenset({StepKind.COOL, StepKind.CHILL, StepKind.REST, StepKind.FREEZE})


@dataclass(frozen=True, slots=True)
class History:
    """A broken line of temperature over time, with the time each step begins.

    `minutes` and `celsius` have shape (p,); `starts` has one time per step. `is_told` is False
    when no step gives a temperature.
    """

    minutes: Array
    celsius: Array
    starts: tuple[float, ...]
    is_told: bool

    @property
    def end(self) -> float:
        """The time the last step ends, in minutes."""
        return float(self.minutes[-1])

    def from_time(self, start: float) -> "History":
        """Return the history from a time on; steps before it begin at zero."""
        start = min(max(start, 0.0), self.end)
        at_start = float(np.interp(start, self.minutes, self.celsius))
        later = self.minutes > start
        if not later.any():
            return History(
                np.array([0.0, 1.0]), np.array([at_start, at_start]), self.starts, self.is_told
            )
        return History(
            np.concatenate([[0.0], self.minutes[later] - start]),
            np.concatenate([[at_start], self.celsius[later]]),
            tuple(max(time - start, 0.0) for time in self.starts),
            self.is_told,
        )

    def from_step(self, step: int) -> "History":
        """Return the history from the begin of a step on, counted from 0."""
        if not self.starts:
            return self
        return self.from_time(self.starts[min(step, len(self.starts) - 1)])


@lru_cache(maxsize=256)
def histories(steps: tuple[Step, ...]) -> tuple[History, History, History]:
    """Return the histories of a middling, a slow and a quick kitchen; typing repeats them."""
    middle, slow, quick = (history_read(steps, pace=p) for p in (1.0, PACE_FACTOR, 1 / PACE_FACTOR))
    return middle, slow, quick


def history_read(steps: tuple[Step, ...], *, pace: float = 1.0) -> History:
    """Return the history of the steps; `pace` above 1 is a slower kitchen.

    Stated times count as stated; warming, cooling and handling times are assumed.
    """
    minutes, celsius, starts = [0.0], [_START_C], []
    is_told = False
    for step in steps:
        begins, now = minutes[-1], celsius[-1]
        started = begins
        target = _target(step, now)
        is_told = is_told or target != now
        if target != now:
            minutes.append(minutes[-1] + pace * _ramp_min(step, now, target))
            celsius.append(target)
            # "Add the juice at 60 °C": it goes in when the batch is there.
            begins = minutes[-1] if step.kind is StepKind.ADD else begins
        starts.append(begins)
        stay = _stay_min(step, pace, moved=minutes[-1] - started, has_moved=target != now)
        if stay > 0:
            minutes.append(minutes[-1] + stay)
            celsius.append(target)
    if len(minutes) == 1:
        minutes, celsius = [0.0, 1.0], [_START_C, _START_C]
    return History(np.array(minutes), np.array(celsius), tuple(starts), is_told)


def _target(step: Step, now: float) -> float:
    degrees = batch_temperature(step)
    if degrees is not None:
        return degrees
    if step.kind is StepKind.CHILL:
        return min(now, _FRIDGE_C)
    return min(now, _FREEZER_C) if step.kind is StepKind.FREEZE else now


def _ramp_min(step: Step, now: float, target: float) -> float:
    if target > now:
        return (target - now) / _WARMS_C_MIN
    slow = step.kind in {StepKind.CHILL, StepKind.FREEZE, StepKind.REST}
    return (now - target) / (_CHILLS_C_MIN if slow else _COOLS_C_MIN)


def _stay_min(step: Step, pace: float, *, moved: float, has_moved: bool) -> float:
    """Time at the temperature of the step: as stated, or a moment of handling.

    "Chill 4 h" counts from the door of the fridge, so the way down is part of it.
    """
    if step.hold_min is not None:
        return max(step.hold_min - moved, 0.0) if step.kind in _SETTLING else step.hold_min
    if step.kind in {StepKind.BOIL, StepKind.HOLD}:
        return pace
    return 0.0 if has_moved else pace * _HANDLING_MIN
