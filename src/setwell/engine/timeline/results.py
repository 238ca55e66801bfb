"""What a timeline tells: stages, points that decide, and a schedule; typed, read-only."""

from dataclasses import dataclass
from enum import StrEnum

from setwell.engine.verdict import Verdict
from setwell.provenance import Estimate, Evidence


class Basis(StrEnum):
    """Where the time of a stage comes from."""

    STATED = "stated"
    COMPUTED = "computed"
    ASSUMED = "assumed"


@dataclass(frozen=True, slots=True)
class Stage:
    """One step of the work: when it begins and how long it takes, in minutes from the start.

    `number` counts the steps from 1; 0 is the weighing before them. `hands_on` is the part of
    the time that needs a cook. Ranges run from a quick to a slow kitchen.
    """

    number: int
    kind: str
    text: str
    start: Estimate
    minutes: Estimate
    begin_c: float
    end_c: float
    hands_on: Estimate
    basis: Basis
    note: str = ""

    @property
    def end_min(self) -> float:
        """When it ends in a usual kitchen, in minutes from the start."""
        return self.start.value + self.minutes.value

    @property
    def waiting_min(self) -> float:
        """The part of the time that needs nobody, in minutes."""
        return max(self.minutes.value - self.hands_on.value, 0.0)


@dataclass(frozen=True, slots=True)
class CriticalPoint:
    """A point that decides: the target, how long the window is open, and what to measure.

    `stage` is the number of the step it belongs to, 0 when no step does it.
    """

    key: str
    stage: int
    title: str
    target: str
    target_c: float | None
    at: Estimate | None
    window: Estimate | None
    window_text: str
    measure: str
    verdict: Verdict | None = None
    evidence: Evidence = ()


@dataclass(frozen=True, slots=True)
class Timeline:
    """All stages in order; `ready` is when it can be served, in minutes from the start."""

    stages: tuple[Stage, ...]
    points: tuple[CriticalPoint, ...]
    ready: Estimate
    hands_on: Estimate
    notes: tuple[str, ...] = ()

    def stage(self, number: int) -> Stage | None:
        """Return the stage of a step."""
        return next((one for one in self.stages if one.number == number), None)


@dataclass(frozen=True, slots=True)
class ScheduleRow:
    """A stage on the clock, in minutes after midnight of the serving day."""

    stage: Stage
    begins: float
    earliest: float
    latest: float


@dataclass(frozen=True, slots=True)
class Schedule:
    """Work laid out back from a serving time; negative minutes are on the day before.

    `short_min` is how much too late a slow kitchen would be, None when there is time enough.
    """

    serve_min: float
    start_min: float
    rows: tuple[ScheduleRow, ...]
    short_min: float | None
    text: str
    action: str = ""

    @property
    def is_possible(self) -> bool:
        """True when even a slow kitchen is ready in time."""
        return self.short_min is None
