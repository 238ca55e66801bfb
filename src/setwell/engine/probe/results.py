"""What is said of a probe's log: typed, read-only results."""

from dataclasses import dataclass
from enum import IntFlag, StrEnum

import numpy as np
from numpy.typing import NDArray

from setwell.domain.log_reading import ProbePlace
from setwell.engine.heat.course import Course
from setwell.engine.heat.results import Advice, AgentHeating
from setwell.engine.probe.summary import log_summary
from setwell.engine.safety.results import Basis, SafetyCheck

Array = NDArray[np.float64]
Flags = NDArray[np.uint8]


class Flag(IntFlag):
    """Why a sample is left out of the line; every sample itself is kept."""

    NO_NUMBER = 1
    NO_TIME = 2
    BACKWARD = 4
    DUPLICATE = 8
    SPIKE = 16
    OUT_OF_RANGE = 32


@dataclass(frozen=True, slots=True)
class Gap:
    """A stretch without a usable sample: nothing is known of it [s]."""

    start_s: float
    end_s: float

    @property
    def length_s(self) -> float:
        """How long it is."""
        return self.end_s - self.start_s


@dataclass(frozen=True, slots=True, eq=False)
class CleanProbe:
    """One probe. `flags` (n,) are those of the raw samples; `course` is the line that is judged.

    `course` is None where fewer than two samples can be used. `is_still` says that the reading
    never moved, which a probe in food cannot do.
    """

    name: str
    place: ProbePlace
    flags: Flags
    course: Course | None
    gaps: tuple[Gap, ...]
    interval_s: float
    is_still: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class CleanLog:
    """All probes of a log beside the raw samples, with remarks on what was left out."""

    seconds: Array
    celsius: Array
    probes: tuple[CleanProbe, ...]
    remarks: tuple[Advice, ...]

    @property
    def food(self) -> tuple[CleanProbe, ...]:
        """The probes that sat in the batch."""
        return tuple(probe for probe in self.probes if probe.place.is_food)


class PhaseKind(StrEnum):
    """What a batch did for a while."""

    HEATING = "heating"
    HOLDING = "holding"
    COOLING = "cooling"


@dataclass(frozen=True, slots=True)
class LogPhase:
    """A stretch of a log, by the mean of the probes in the food."""

    kind: PhaseKind
    start_s: float
    end_s: float
    start_c: float
    end_c: float


@dataclass(frozen=True, slots=True)
class Compared:
    """A measured place beside the computed course of it, over the time both are known.

    `start_s` is the moment of the log at which the computed course begins.
    Differences are measured minus computed [°C]; `within_pct` of the time the measurement lies
    inside the computed range.
    """

    place: str
    predicted: Course
    mean_c: float
    worst_c: float
    worst_at_s: float
    within_pct: float
    start_s: float
    text: str


@dataclass(frozen=True, slots=True, eq=False)
class LogJudgement:
    """What a log proves of a batch, probe by probe and for the worst of them."""

    clean: CleanLog
    coldest: Course | None
    warmest: Course | None
    phases: tuple[LogPhase, ...]
    agents: tuple[AgentHeating, ...]
    checks: tuple[SafetyCheck, ...]
    compared: tuple[Compared, ...] = ()

    @property
    def law(self) -> tuple[SafetyCheck, ...]:
        """The checks of rules that bind a kitchen."""
        return tuple(one for one in self.checks if one.basis is Basis.LAW)

    @property
    def targets(self) -> tuple[SafetyCheck, ...]:
        """All other checks: rules for plants, targets and information."""
        return tuple(one for one in self.checks if one.basis is not Basis.LAW)

    @property
    def summary(self) -> str:
        """All verdicts in one line, of the law and of the agents."""
        return log_summary(self.agents, self.checks)
