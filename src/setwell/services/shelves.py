"""The shelves of the pantry, one for each kind of thing, and the kitchen's settings."""

from typing import Any

from setwell.domain.equipment import Cooler, Hob
from setwell.domain.pantry import Kitchen, Lot, Mold, OwnAgent, OwnFood, Price, Vessel
from setwell.domain.reading import IngredientReading
from setwell.store.entities import Entity
from setwell.store.pantry_rows import Shelf
from setwell.store.settings_rows import setting_get, setting_put

FOODS = Shelf(Entity.FOOD, OwnFood)
AGENTS = Shelf(Entity.AGENT, OwnAgent)
LOTS = Shelf(Entity.LOT, Lot)
PRICES = Shelf(Entity.PRICE, Price)
MOLDS = Shelf(Entity.MOLD, Mold)
VESSELS = Shelf(Entity.VESSEL, Vessel)
HOBS = Shelf(Entity.HOB, Hob)
COOLERS = Shelf(Entity.COOLER, Cooler)
READINGS = Shelf(Entity.READING, IngredientReading)

_ALL: tuple[Shelf[Any], ...] = (
    FOODS, AGENTS, LOTS, PRICES, MOLDS, VESSELS, HOBS, COOLERS, READINGS,
)  # fmt: skip
SHELVES = {shelf.entity: shelf for shelf in _ALL}

_KITCHEN = "kitchen"


def kitchen_read() -> Kitchen:
    """Return the kitchen's settings, or the defaults before any were saved."""
    text = setting_get(_KITCHEN)
    return Kitchen.model_validate_json(text) if text else Kitchen()


def kitchen_write(kitchen: Kitchen) -> None:
    """Write the kitchen's settings."""
    setting_put(_KITCHEN, kitchen.canonical_json())
