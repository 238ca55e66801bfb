"""What the engine proposes for a brief: typed, read-only results."""

from dataclasses import dataclass

from setwell.domain.formula import Formula
from setwell.engine.texture_results import Texture
from setwell.engine.verdict import Verdict
from setwell.provenance import Estimate, Evidence


@dataclass(frozen=True, slots=True)
class AgentDose:
    """One agent of a proposal: its table key, its names and its percent of the finished batch."""

    key: str
    name: str
    line_name: str
    dose_pct: float


@dataclass(frozen=True, slots=True)
class HelperDose:
    """A salt or buffer beside the agents, in percent of the finished batch."""

    name: str
    pct: float


@dataclass(frozen=True, slots=True)
class WishAnswer:
    """One wish of the brief and what a proposal comes to.

    `holds` is "cannot tell" where the range reaches both sides. `distance` is 0 where the middle
    holds, 1 where it is off by about what a taster notices at once.
    """

    key: str
    asked: str
    found: str
    holds: Verdict
    distance: float


@dataclass(frozen=True, slots=True)
class Chance:
    """The chance that a stranger's batch does what the brief asks of its texture."""

    profile: str
    value: float
    low: float
    high: float
    draws: int


@dataclass(frozen=True, slots=True)
class Proposal:
    """One way to meet a brief, computed by the whole engine.

    `fit` sums the distances of all wishes, 0 is best. `process` is what the method asks of the
    cook, `label` what it adds to the ingredient list, `traded` what is given up against the
    wishes or the other proposals, each in one plain line. `ingredients` counts agents and
    helpers. `cost_per_portion` is a lower bound while prices are missing. `is_best` marks those
    on the front of fit, chance, cost and number of ingredients.
    """

    code: str
    agents: tuple[AgentDose, ...]
    helpers: tuple[HelperDose, ...]
    formula: Formula
    texture: Texture
    wishes: tuple[WishAnswer, ...]
    fit: float
    chance: Chance | None
    cost_per_portion: Estimate | None
    ingredients: int
    process: tuple[str, ...]
    label: tuple[str, ...]
    allergens: tuple[str, ...]
    traded: tuple[str, ...]
    cautions: tuple[str, ...]
    is_best: bool = False

    @property
    def name(self) -> str:
        """The agents in words."""
        return " + ".join(agent.line_name for agent in self.agents)


@dataclass(frozen=True, slots=True)
class FellOut:
    """An agent, or a pair, that is no answer, and why in one plain line."""

    agents: tuple[str, ...]
    name: str
    why: str


@dataclass(frozen=True, slots=True)
class Relaxation:
    """The nearest feasible brief: what to give up, by how much, and what then fits best.

    `wishes` are the keys of the wishes given up, `changes` fields of the brief and what to set
    them to, dotted for inner ones ("limits.max_temperature_c").
    """

    wishes: tuple[str, ...]
    text: str
    changes: tuple[tuple[str, str], ...]
    agents: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Conflict:
    """Wishes that nothing judged meets together, though without any one of them something does."""

    wishes: tuple[str, ...]
    text: str


@dataclass(frozen=True, slots=True)
class Judged:
    """How many candidates were judged, by the number of agents."""

    singles: int = 0
    pairs: int = 0
    triples: int = 0

    @property
    def total(self) -> int:
        """All of them."""
        return self.singles + self.pairs + self.triples


@dataclass(frozen=True, slots=True)
class Proposals:
    """The answer to a brief; `is_complete` is False while only single agents were judged."""

    title: str
    wishes: tuple[str, ...]
    proposals: tuple[Proposal, ...]
    fell_out: tuple[FellOut, ...]
    conflicts: tuple[Conflict, ...]
    relaxations: tuple[Relaxation, ...]
    judged: Judged
    remarks: tuple[str, ...]
    assumed: tuple[str, ...]
    is_complete: bool
    evidence: Evidence = ()
    # Where few are proposed: which agents come next, and which wishes they miss.
    nearest: tuple[str, ...] = ()
