"""The kinds of things a kitchen keeps on its shelves, and how each is named."""

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from setwell.domain.document import Document
from setwell.domain.pantry import Lot, Mold, OwnAgent, OwnFood, Price, Vessel
from setwell.store.rows import (
    AgentRow,
    FoodRow,
    LotRow,
    MoldRow,
    PriceRow,
    ShelfRow,
    VesselRow,
)


class Entity(StrEnum):
    """One kind of thing on the shelves."""

    FOOD = "food"
    AGENT = "agent"
    LOT = "lot"
    PRICE = "price"
    MOLD = "mold"
    VESSEL = "vessel"


@dataclass(frozen=True, slots=True)
class EntityTable:
    """Where one kind is stored, and which fields make its name."""

    document: type[Document]
    row: type[ShelfRow]
    name_of: Callable[[Any], str]


def lot_name(lot: Lot) -> str:
    """Return the name of a lot: lot codes repeat between agents."""
    return f"{lot.agent} · {lot.lot_code}"


TABLES = {
    Entity.FOOD: EntityTable(OwnFood, FoodRow, lambda food: food.name),
    Entity.AGENT: EntityTable(OwnAgent, AgentRow, lambda agent: agent.name),
    Entity.LOT: EntityTable(Lot, LotRow, lot_name),
    Entity.PRICE: EntityTable(Price, PriceRow, lambda price: price.material),
    Entity.MOLD: EntityTable(Mold, MoldRow, lambda mold: mold.name),
    Entity.VESSEL: EntityTable(Vessel, VesselRow, lambda vessel: vessel.name),
}
