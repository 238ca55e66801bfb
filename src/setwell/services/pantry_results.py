"""Things of the pantry with their ids: typed, read-only."""

from dataclasses import dataclass
from typing import Generic, TypeVar

from setwell.domain.document import Document
from setwell.domain.equipment import Cooler, Hob
from setwell.domain.pantry import Lot, Mold, OwnAgent, OwnFood, Price, Vessel
from setwell.domain.reading import IngredientReading
from setwell.provenance import Estimate

D = TypeVar("D", bound=Document)


@dataclass(frozen=True)
class PantryRow(Generic[D]):
    """One thing of the pantry and the id by which it is changed."""

    id: int
    document: D


class FoodRow(PantryRow[OwnFood]):
    """A food of the kitchen's own."""

    @property
    def food(self) -> OwnFood:
        """The food."""
        return self.document


class AgentRow(PantryRow[OwnAgent]):
    """An agent of the kitchen's own."""

    @property
    def agent(self) -> OwnAgent:
        """The agent."""
        return self.document


class LotRow(PantryRow[Lot]):
    """A lot of an agent."""

    @property
    def lot(self) -> Lot:
        """The lot."""
        return self.document


class PriceRow(PantryRow[Price]):
    """A price of a table food or agent."""

    @property
    def price(self) -> Price:
        """The price."""
        return self.document


class MoldRow(PantryRow[Mold]):
    """A mold."""

    @property
    def mold(self) -> Mold:
        """The mold."""
        return self.document


class VesselRow(PantryRow[Vessel]):
    """A vessel."""

    @property
    def vessel(self) -> Vessel:
        """The vessel."""
        return self.document


class HobRow(PantryRow[Hob]):
    """A hob."""

    @property
    def hob(self) -> Hob:
        """The hob."""
        return self.document


class CoolerRow(PantryRow[Cooler]):
    """A cold place."""

    @property
    def cooler(self) -> Cooler:
        """The cold place."""
        return self.document


@dataclass(frozen=True)
class ReadingRow(PantryRow[IngredientReading]):
    """A pH reading of a food; `instead_of` is the pH that counts without it."""

    instead_of: Estimate | None = None

    @property
    def reading(self) -> IngredientReading:
        """The reading."""
        return self.document


@dataclass(frozen=True, slots=True)
class ImportReport:
    """What an import did; with any problem nothing was changed."""

    added: int
    updated: int
    problems: tuple[str, ...]
    notes: tuple[str, ...] = ()
