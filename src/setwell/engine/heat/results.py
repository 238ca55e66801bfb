"""What the engine says about heating and cooling: typed, read-only results."""

from dataclasses import dataclass

from setwell.engine.assessment import Figure
from setwell.engine.heat.course import Course
from setwell.engine.verdict import Verdict
from setwell.provenance import Estimate, Evidence


@dataclass(frozen=True, slots=True)
class Foodstuff:
    """What a batch is to heat: SI units at a middle temperature of the process.

    `figures` are the same numbers with ranges and origins, ready to show.
    """

    conductivity: float
    heat_capacity: float
    density: float
    freezing_c: float | None
    at_c: float
    conductivity_range: tuple[float, float]
    heat_capacity_range: tuple[float, float]
    density_range: tuple[float, float]
    mixing_model: str
    figures: tuple[Figure, ...]
    evidence: Evidence = ()
    # What makes these numbers doubtful, such as "extrapolated" or "alcohol".
    flags: tuple[str, ...] = ()

    @property
    def diffusivity(self) -> float:
        """Thermal diffusivity [m2/s]."""
        return self.conductivity / (self.density * self.heat_capacity)


@dataclass(frozen=True, slots=True)
class Moment:
    """When something happens; `estimate` None = never within the time shown.

    `estimate` is in minutes from the start; an open high end (None) means it may never happen.
    """

    key: str
    label: str
    estimate: Estimate | None
    text: str


@dataclass(frozen=True, slots=True)
class AgentHeating:
    """Whether the coldest part of the pot gets an agent hot enough for long enough."""

    key: str
    name: str
    needs_c: float
    needs_min: float
    reached: Moment
    done: Moment
    hydrates: Verdict
    text: str
    # The share that dissolves by the kinetics of the powder, in the coldest part and of the batch.
    coldest_dissolved: Estimate | None = None
    dissolved: Estimate | None = None


@dataclass(frozen=True, slots=True)
class Advice:
    """Something that is wrong or could go better, what it is and what to do."""

    code: str
    text: str
    action: str
    is_stop: bool = False
    evidence: Evidence = ()


@dataclass(frozen=True, slots=True)
class PotResult:
    """A pot on its way up: `courses` are bottom, core and surface."""

    courses: tuple[Course, ...]
    coldest: Course
    agents: tuple[AgentHeating, ...]
    moments: tuple[Moment, ...]
    figures: tuple[Figure, ...]
    evaporated_g: Estimate
    regime: str
    regime_text: str
    advice: tuple[Advice, ...]
    # The same pot unstirred, or stirred when this one is not.
    other: "PotResult | None" = None
    other_label: str = ""


@dataclass(frozen=True, slots=True)
class CoolingResult:
    """Molds on their way down: `courses` are core (the slowest place) and surface."""

    courses: tuple[Course, ...]
    moments: tuple[Moment, ...]
    figures: tuple[Figure, ...]
    advice: tuple[Advice, ...]
    method: str
    # How many molds this cold place takes before its air warms; None where that is not known.
    most_molds: Estimate | None = None

    @property
    def core(self) -> Course:
        """The slowest place."""
        return self.courses[0]

    def moment(self, key: str) -> Moment | None:
        """Return one of the moments: `set`, `unmold`, `21`, `5`, `serve`."""
        return next((one for one in self.moments if one.key == key), None)
