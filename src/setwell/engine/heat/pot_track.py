"""A pot computed in all its cases, and what is read off the tracks."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from setwell.domain.process_plan import PotStirring
from setwell.engine.heat.course import Course
from setwell.engine.heat.pot_cases import (
    CASES,
    JOINT,
    LOSS_EVIDENCE,
    MIXING,
    MOTION_EVIDENCE,
    PRACTICE,
    SCRAPED_EVIDENCE,
    pot_cases,
)
from setwell.engine.heat.pot_setup import PotTask
from setwell.engine.pot_course import PotCourse, ZoneCourse
from setwell.provenance import Evidence, evidence_join
from setwell.science.heat.pot import PotRun, pot_run

Array = NDArray[np.float64]

MODEL = "pot in three zones"
PLACES = ("bottom", "core", "surface")
# How long a pot is followed [s]: so many times the least it takes, a while more, at most.
_TIMES, _MORE_S, _MOST_S = 2.0, 2400.0, 4 * 3600.0
_STIRRED_MORE_S = 660.0
# Nobody stays longer at a pot that never gets there [s].
_PATIENCE_S = 2 * 3600.0
# A thermometer shows whole degrees [K].
_READ_K = 0.5
# How far the middle may lag when a pot stirred now and then counts as hot (common practice) [K].
_FOLLOWS_K = 5.0
_POINTS, _HANDED_POINTS = 160, 24
# What a batch gains by being warm counts from here when cases are put in order [°C].
_WARM_C = 50.0


@dataclass(frozen=True, slots=True)
class PotTrack:
    """One pot stirred one way: `zones` (3, p, n) in °C at `seconds` (p,), for n cases.

    `base` (p, n) is the face of the base, `ends` (n,) when the hold is over [s], infinite where
    the target is never read; the rest has run since the start [J, kg].
    """

    stirring: PotStirring
    seconds: Array
    zones: Array
    base: Array
    power_j: Array
    vapor_kg: Array
    condensate_kg: Array
    inside_k: Array
    reads: Array
    ends: Array

    @property
    def coldest(self) -> Array:
        """The coldest zone of each case over time, (p, n)."""
        return np.asarray(self.zones.min(axis=0))

    @property
    def last(self) -> Array:
        """When each case is over: its hold, or the patience of a cook [s]."""
        most = min(float(self.seconds[-1]), _PATIENCE_S)
        return np.where(np.isfinite(self.ends), np.minimum(self.ends, self.seconds[-1]), most)

    def at_end(self, track: Array) -> Array:
        """Return a track (p, n) read at the end of each case, (n,)."""
        return np.array(
            [np.interp(end, self.seconds, track[:, n]) for n, end in enumerate(self.last)]
        )


def pot_tracks(task: PotTask, stirring: tuple[PotStirring, ...]) -> tuple[PotTrack, ...]:
    """Return the pot stirred in each of these ways."""
    cases = pot_cases(task, stirring)
    run = pot_run(*cases, start_c=task.plan.start_c, seconds=_followed_s(task))
    return tuple(_track(task, run, way, number) for number, way in enumerate(stirring))


def _followed_s(task: PotTask) -> float:
    """Return how long the pot is followed [s]."""
    held = task.mass_kg * task.food.heat_capacity
    share = task.efficiency.low or task.efficiency.value
    least = held * (task.target_c - task.plan.start_c) / (task.plan.hob.power_w * share)
    hold = 60.0 * (task.hold_min or 0.0)
    if task.plan.stirring is PotStirring.OCCASIONAL:
        return min(_TIMES * least, _MOST_S) + _STIRRED_MORE_S + hold
    return min(_TIMES * least + _MORE_S, _MOST_S) + hold


def _track(task: PotTask, run: PotRun, way: PotStirring, number: int) -> PotTrack:
    own = slice(number * CASES, (number + 1) * CASES)
    reading = run.reading[:, own]
    has_read = reading >= task.target_c - _READ_K
    if way is PotStirring.OCCASIONAL:
        # Who stirs now and then reads again after a stir; in the worst kitchens nobody does.
        follows = run.core[:, own] >= task.target_c - _FOLLOWS_K
        has_read &= follows | (MIXING < 0)
    first = np.argmax(has_read, axis=0)
    reads = np.where(has_read.any(axis=0), run.seconds[first], np.inf)
    return PotTrack(
        stirring=way,
        seconds=run.seconds,
        zones=np.stack([reading, run.core[:, own], run.surface[:, own]]),
        base=run.base[:, own],
        power_j=run.flow("power")[:, own],
        vapor_kg=run.flow("vapor")[:, own],
        condensate_kg=run.flow("condensate")[:, own],
        inside_k=run.celsius[:, own, 1] - run.celsius[:, own, -2],
        reads=reads,
        ends=reads + 60.0 * (task.hold_min or 0.0),
    )


def track_evidence(task: PotTask, track: PotTrack) -> Evidence:
    """Return everything a course rests on."""
    own = SCRAPED_EVIDENCE if track.stirring in _SCRAPED else MOTION_EVIDENCE
    return evidence_join((own, LOSS_EVIDENCE, PRACTICE, task.evidence))


_SCRAPED = frozenset(PotStirring) - {PotStirring.NONE, PotStirring.OCCASIONAL}


def courses(task: PotTask, track: PotTrack) -> tuple[Course, Course, Course]:
    """Return bottom, core and surface with their ranges, to the end of the slowest hold."""
    end = float(track.last.max())
    seconds = np.unique(np.concatenate([
        np.linspace(0.0, end, _POINTS), track.last[:1], np.minimum(track.reads[:1], end)
    ]))  # fmt: skip
    evidence = track_evidence(task, track)
    found = []
    for place, zone in zip(PLACES, track.zones, strict=True):
        read = np.stack([np.interp(seconds, track.seconds, case) for case in zone.T])
        found.append(
            Course(place, seconds, read[0], read.min(axis=0), read.max(axis=0), model=MODEL,
                   evidence=evidence)
        )  # fmt: skip
    return found[0], found[1], found[2]


def handed_on(task: PotTask, track: PotTrack) -> PotCourse:
    """Return the middle kitchen, and the worst and the best of those with both doubts at half."""
    warmth = np.maximum(track.zones.mean(axis=0) - _WARM_C, 0.0)
    total = np.concatenate(
        [np.zeros((1, CASES)), np.cumsum(
            0.5 * (warmth[1:] + warmth[:-1]) * np.diff(track.seconds)[:, None], axis=0
        )]
    )  # fmt: skip
    score = track.at_end(total)[JOINT]
    worst, best = JOINT.start + int(score.argmin()), JOINT.start + int(score.argmax())
    return PotCourse(
        _zones(track, 0), _zones(track, worst), _zones(track, best), target_c=task.target_c
    )


def _zones(track: PotTrack, case: int) -> ZoneCourse:
    end = float(track.last[case])
    even = np.linspace(0.0, end, _HANDED_POINTS)
    seconds: Array = np.unique(np.append(even, min(float(track.reads[case]), end)))
    bottom, core, surface = (
        tuple(np.interp(seconds, track.seconds, zone[:, case]).tolist()) for zone in track.zones
    )
    return ZoneCourse(tuple((seconds / 60.0).tolist()), bottom, core, surface)
