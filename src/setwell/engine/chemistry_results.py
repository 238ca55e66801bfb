"""What the water phase means for the dish: consequences, and what the order of the acid costs."""

from dataclasses import dataclass
from enum import StrEnum

from setwell.provenance import Estimate, Evidence


class Tone(StrEnum):
    """How a consequence sounds: it fits, it needs an eye, or it is good to know."""

    GOOD = "good"
    WATCH = "watch"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Consequence:
    """What limits what, with the figures it follows from."""

    title: str
    text: str
    tone: Tone
    evidence: Evidence = ()


@dataclass(frozen=True, slots=True)
class KeptCurve:
    """Share of the strength kept, 0 to 1, for each hold time."""

    value: tuple[float, ...]
    low: tuple[float, ...]
    high: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class OrderRow:
    """Strength kept in percent after one hold time, in both orders."""

    minutes: float
    early: Estimate
    late: Estimate


@dataclass(frozen=True, slots=True)
class AgentOrder:
    """One agent: strength kept with the acid in before the hold, and added after cooling.

    `own` is what the steps of the formula leave, None when they do not say when the acid comes;
    `own_minutes` is their hold. `setting` is the share of its strength a gel of this agent forms
    with at this pH in any order, None where it is not known to suffer.
    """

    key: str
    name: str
    peak_c: float
    is_peak_told: bool
    late_c: float
    minutes: tuple[float, ...]
    early: KeptCurve
    late: KeptCurve
    sentence: str
    own: Estimate | None
    own_minutes: float | None
    own_acid_c: float | None
    setting: Estimate | None
    flags: tuple[str, ...]
    evidence: Evidence

    def at(self, minutes: float) -> OrderRow:
        """Return both orders at the listed hold time next to this one."""
        place = min(range(len(self.minutes)), key=lambda index: abs(self.minutes[index] - minutes))
        return OrderRow(
            self.minutes[place], self._kept(self.early, place), self._kept(self.late, place)
        )

    @property
    def rows(self) -> tuple[OrderRow, ...]:
        """A few hold times for a table."""
        return tuple(self.at(minutes) for minutes in (0.0, 2.0, 5.0, 10.0, 20.0, 30.0))

    def _kept(self, curve: KeptCurve, place: int) -> Estimate:
        value, low, high = (100.0 * part[place] for part in (curve.value, curve.low, curve.high))
        model = "loss law over the temperature history"
        return Estimate(value, "%", low, high, model, self.evidence, self.flags)


@dataclass(frozen=True, slots=True)
class AcidOrder:
    """What the moment of the acid costs, for every agent with a law of loss."""

    ph: Estimate
    ph_before: Estimate
    acids: tuple[str, ...]
    agents: tuple[AgentOrder, ...]
