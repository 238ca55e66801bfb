"""Texture agents as pages show them: typed, read-only."""

from dataclasses import dataclass

from setwell.provenance import Evidence


@dataclass(frozen=True, slots=True)
class AgentColumn:
    """One agent of the chart."""

    key: str
    name: str
    short_name: str


@dataclass(frozen=True, slots=True)
class AgentCell:
    """What the tables say, and where that comes from; empty when they say nothing."""

    text: str
    evidence: Evidence = ()


@dataclass(frozen=True, slots=True)
class AgentChartRow:
    """One property, with one cell for each column."""

    key: str
    label: str
    cells: tuple[AgentCell, ...]


@dataclass(frozen=True, slots=True)
class AgentChart:
    """Agents side by side."""

    columns: tuple[AgentColumn, ...]
    rows: tuple[AgentChartRow, ...]


@dataclass(frozen=True, slots=True)
class AgentFact:
    """One statement about an agent, under the conditions where it holds."""

    key: str
    label: str
    text: str
    conditions: str
    note: str
    evidence: Evidence


@dataclass(frozen=True, slots=True)
class AgentPart:
    """One agent of a ready blend, and its share by weight."""

    key: str
    name: str
    percent: float


@dataclass(frozen=True, slots=True)
class AgentDetail:
    """Everything the tables know of one agent."""

    key: str
    name: str
    short_name: str
    origin: str
    kind: str
    ins: str
    e_number: str
    us_section: str
    vegan: str
    vegetarian: str
    allergen: str
    diet_note: str
    parts: tuple[AgentPart, ...]
    aliases: tuple[str, ...]
    descriptions: tuple[AgentFact, ...]
    figures: tuple[AgentFact, ...]
    regulation: tuple[AgentFact, ...]
    evidence: Evidence
