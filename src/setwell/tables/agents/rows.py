"""What one texture agent looks like once it is read."""

from collections.abc import Mapping
from dataclasses import dataclass

from setwell.errors import MissingDataError
from setwell.provenance import Citation


@dataclass(frozen=True, slots=True)
class PropertyRow:
    """One figure with its range; a side that the source leaves open is None."""

    property: str
    value: float
    low: float | None
    high: float | None
    unit: str
    conditions: str
    citation: Citation
    note: str


@dataclass(frozen=True, slots=True)
class TextRow:
    """One short statement."""

    property: str
    text: str
    citation: Citation
    note: str


@dataclass(frozen=True, slots=True)
class AgentRow:
    """One texture agent, or a ready blend of two.

    `vegan` and `vegetarian` are yes, no or check; `allergen` is blank, fish,
    fish_check, wheat or check.
    `parts` holds the mass shares of a blend and is empty for a single agent.
    """

    key: str
    name: str
    short_name: str
    origin: str
    kind: str
    charge: str
    ins: str
    e_number: str
    us_cfr: str
    vegan: str
    vegetarian: str
    allergen: str
    diet_note: str
    parts: Mapping[str, float]
    citation: Citation
    properties: Mapping[str, tuple[PropertyRow, ...]]
    texts: Mapping[str, TextRow]
    regulation: Mapping[str, TextRow]
    composition: Mapping[str, PropertyRow]

    @property
    def is_blend(self) -> bool:
        """True for a ready mix of two agents."""
        return bool(self.parts)

    @property
    def is_cold_soluble(self) -> bool:
        """True when the powder thickens or dissolves without heat."""
        return self.figure("cold_soluble").value > 0

    def figure(self, property: str, conditions: str = "") -> PropertyRow:  # noqa: A002
        """Return the figure for these conditions; a single figure answers for blank ones."""
        found = self.properties.get(property, ())
        for row in found:
            if row.conditions == conditions:
                return row
        if len(found) == 1 and not conditions:
            return found[0]
        if found:
            offer = "; ".join(row.conditions or "in general" for row in found)
            wanted = f"“{conditions}”" if conditions else "no conditions"
            raise MissingDataError(
                f"{self.name} has no {property} for {wanted}.", hint=f"Recorded: {offer}."
            )
        raise MissingDataError(
            f"{self.name} has no {property} in the tables.",
            hint=f"Recorded: {', '.join(self.properties)}.",
        )


@dataclass(frozen=True, slots=True)
class Alias:
    """The agent that a written name stands for, and what was assumed."""

    key: str
    assumption: str
    citation: Citation


@dataclass(frozen=True, slots=True)
class GelatinGrade:
    """One grade of gelatin sheet: Bloom strength [g] and mass of a sheet [g]."""

    name: str
    bloom: float
    bloom_low: float
    bloom_high: float
    sheet_mass: float
    citation: Citation
    note: str
