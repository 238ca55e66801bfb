"""The kinds of things a kitchen keeps on its shelves, and how each is named."""

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from setwell.domain.document import Document
from setwell.domain.equipment import Cooler, Hob
from setwell.domain.pantry import Lot, Mold, OwnAgent, OwnFood, Price, Vessel
from setwell.domain.reading import IngredientReading
from setwell.store.rows import (
    AgentRow,
    CoolerRow,
    FoodRow,
    HobRow,
    LotRow,
    MoldRow,
    PriceRow,
    ReadingRow,
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
    READING = "reading"
    HOB = "hob"
    COOLER = "cooler"


@dataclass(frozen=True, slots=True)
class EntityTable:
    """Where one kind is stored, which fields make its name, and what to do when it is taken."""

    document: type[Document]
    row: type[ShelfRow]
    name_of: Callable[[Any], str]
    taken_hint: str = "Give this one another name, or change the one there is."


def lot_name(lot: Lot) -> str:
    """Return the name of a lot: lot codes repeat between agents."""
    return f"{lot.agent} · {lot.lot_code}"


def reading_name(reading: IngredientReading) -> str:
    """Return the name of a pH reading: one of each food, lot and day."""
    day = reading.taken_on.isoformat() if reading.taken_on else ""
    return " · ".join(part for part in (reading.material, reading.lot_code, day) if part)


TABLES = {
    Entity.FOOD: EntityTable(OwnFood, FoodRow, lambda food: food.name),
    Entity.AGENT: EntityTable(OwnAgent, AgentRow, lambda agent: agent.name),
    Entity.LOT: EntityTable(Lot, LotRow, lot_name),
    Entity.PRICE: EntityTable(Price, PriceRow, lambda price: price.material),
    Entity.MOLD: EntityTable(Mold, MoldRow, lambda mold: mold.name),
    Entity.VESSEL: EntityTable(Vessel, VesselRow, lambda vessel: vessel.name),
    Entity.HOB: EntityTable(Hob, HobRow, lambda hob: hob.name),
    Entity.COOLER: EntityTable(Cooler, CoolerRow, lambda cooler: cooler.name),
    Entity.READING: EntityTable(
        IngredientReading,
        ReadingRow,
        reading_name,
        "Change the one there is, or tell this one apart by its lot or its day.",
    ),
}
