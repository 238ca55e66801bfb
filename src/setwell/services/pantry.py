# ruff: noqa: A002 - "id" is what the front doors and the tables call it

"""The pantry: the kitchen's own foods, agents, lots, prices, equipment and readings."""

from typing import TypeVar

from setwell.domain.document import Document
from setwell.domain.equipment import Cooler, Hob
from setwell.domain.pantry import Lot, Mold, OwnAgent, OwnFood, Pantry, Price, Vessel
from setwell.domain.reading import IngredientReading
from setwell.engine.material import Material
from setwell.errors import ConflictError
from setwell.provenance import Estimate
from setwell.services.clock import now
from setwell.services.food_copies import food_copy
from setwell.services.ingredient_readings import readings_rename, readings_settle
from setwell.services.lots import lots_rename, lots_settle
from setwell.services.materials import kitchen_catalog, pantry_read
from setwell.services.pantry_checks import faults, own_names_read, tidied
from setwell.services.pantry_csv import pantry_export_csv, pantry_import_csv
from setwell.services.pantry_results import (
    AgentRow,
    CoolerRow,
    FoodRow,
    HobRow,
    ImportReport,
    LotRow,
    MoldRow,
    PriceRow,
    ReadingRow,
    VesselRow,
)
from setwell.services.price_history import price_note
from setwell.services.revision import pantry_touch
from setwell.services.shelves import (
    AGENTS,
    COOLERS,
    FOODS,
    HOBS,
    LOTS,
    MOLDS,
    PRICES,
    READINGS,
    VESSELS,
)
from setwell.store.name_key import name_key
from setwell.store.pantry_rows import Shelf
from setwell.store.transactions import writing

__all__ = [
    "AgentRow",
    "CoolerRow",
    "FoodRow",
    "HobRow",
    "ImportReport",
    "LotRow",
    "MoldRow",
    "PriceRow",
    "ReadingRow",
    "VesselRow",
    "food_copy",
    "pantry_export_csv",
    "pantry_import_csv",
]

D = TypeVar("D", bound=Document)


def pantry_get() -> Pantry:
    """Return everything the kitchen has of its own, as one value."""
    return pantry_read()


def food_list() -> tuple[FoodRow, ...]:
    """Return the kitchen's own foods by name."""
    return tuple(FoodRow(row_id, food) for row_id, food in FOODS.all())


def food_get(id: int) -> FoodRow:
    """Return one food of the kitchen's own."""
    return FoodRow(id, FOODS.get(id))


def food_save(*, id: int | None, document: OwnFood) -> int:
    """Add a food, or replace the one with this id; its pH readings follow a new name."""
    old_name = FOODS.get(id).name if id is not None else document.name
    with writing():
        saved = _save(FOODS, id, document)
        readings_rename(old_name, FOODS.get(saved).name, saved_at=now())
    return saved


def food_delete(*, id: int) -> None:
    """Take a food off the shelf; formulas that name it will say that it is unknown."""
    _delete(FOODS, id)


def agent_list() -> tuple[AgentRow, ...]:
    """Return the kitchen's own agents by name."""
    return tuple(AgentRow(row_id, agent) for row_id, agent in AGENTS.all())


def agent_get(id: int) -> AgentRow:
    """Return one agent of the kitchen's own."""
    return AgentRow(id, AGENTS.get(id))


def agent_save(*, id: int | None, document: OwnAgent) -> int:
    """Add an agent, or replace the one with this id; its lots follow a new name."""
    old_name = AGENTS.get(id).name if id is not None else document.name
    with writing():
        saved = _save(AGENTS, id, document)
        lots_rename(old_name, AGENTS.get(saved).name, saved_at=now())
    return saved


def agent_delete(*, id: int) -> None:
    """Take an agent off the shelf, unless lots of it are left."""
    key = name_key(AGENTS.get(id).name)
    lots = [lot.lot_code for lot in LOTS.documents() if name_key(lot.agent) == key]
    if lots:
        raise ConflictError(
            f"There are still {len(lots)} lots of this agent: {', '.join(lots[:5])}.",
            hint="Delete the lots first.",
        )
    _delete(AGENTS, id)


def lot_list() -> tuple[LotRow, ...]:
    """Return the lots by agent and lot code."""
    return tuple(LotRow(row_id, lot) for row_id, lot in LOTS.all())


def lot_get(id: int) -> LotRow:
    """Return one lot."""
    return LotRow(id, LOTS.get(id))


def lot_save(*, id: int | None, document: Lot) -> int:
    """Add a lot, or replace the one with this id; one lot of an agent is in use at a time."""
    return _save(LOTS, id, document)


def lot_delete(*, id: int) -> None:
    """Take a lot off the shelf."""
    _delete(LOTS, id)


def price_list() -> tuple[PriceRow, ...]:
    """Return the prices by material."""
    return tuple(PriceRow(row_id, price) for row_id, price in PRICES.all())


def price_get(id: int) -> PriceRow:
    """Return one price."""
    return PriceRow(id, PRICES.get(id))


def price_save(*, id: int | None, document: Price) -> int:
    """Add a price, or replace the one with this id."""
    return _save(PRICES, id, document)


def price_delete(*, id: int) -> None:
    """Forget a price."""
    _delete(PRICES, id)


def mold_list() -> tuple[MoldRow, ...]:
    """Return the molds by name."""
    return tuple(MoldRow(row_id, mold) for row_id, mold in MOLDS.all())


def mold_get(id: int) -> MoldRow:
    """Return one mold."""
    return MoldRow(id, MOLDS.get(id))


def mold_save(*, id: int | None, document: Mold) -> int:
    """Add a mold, or replace the one with this id."""
    return _save(MOLDS, id, document)


def mold_delete(*, id: int) -> None:
    """Take a mold off the shelf."""
    _delete(MOLDS, id)


def vessel_list() -> tuple[VesselRow, ...]:
    """Return the vessels by name."""
    return tuple(VesselRow(row_id, vessel) for row_id, vessel in VESSELS.all())


def vessel_get(id: int) -> VesselRow:
    """Return one vessel."""
    return VesselRow(id, VESSELS.get(id))


def vessel_save(*, id: int | None, document: Vessel) -> int:
    """Add a vessel, or replace the one with this id."""
    return _save(VESSELS, id, document)


def vessel_delete(*, id: int) -> None:
    """Take a vessel off the shelf."""
    _delete(VESSELS, id)


def hob_list() -> tuple[HobRow, ...]:
    """Return the hobs by name."""
    return tuple(HobRow(row_id, hob) for row_id, hob in HOBS.all())


def hob_get(id: int) -> HobRow:
    """Return one hob."""
    return HobRow(id, HOBS.get(id))


def hob_save(*, id: int | None, document: Hob) -> int:
    """Add a hob, or replace the one with this id."""
    return _save(HOBS, id, document)


def hob_delete(*, id: int) -> None:
    """Take a hob off the shelf."""
    _delete(HOBS, id)


def cooler_list() -> tuple[CoolerRow, ...]:
    """Return the cold places by name."""
    return tuple(CoolerRow(row_id, cooler) for row_id, cooler in COOLERS.all())


def cooler_get(id: int) -> CoolerRow:
    """Return one cold place."""
    return CoolerRow(id, COOLERS.get(id))


def cooler_save(*, id: int | None, document: Cooler) -> int:
    """Add a cold place, or replace the one with this id."""
    return _save(COOLERS, id, document)


def cooler_delete(*, id: int) -> None:
    """Take a cold place off the shelf."""
    _delete(COOLERS, id)


def reading_list() -> tuple[ReadingRow, ...]:
    """Return the pH readings by food, lot and day, each with the pH that it replaces."""
    return tuple(_reading_row(row_id, reading) for row_id, reading in READINGS.all())


def reading_get(id: int) -> ReadingRow:
    """Return one pH reading."""
    return _reading_row(id, READINGS.get(id))


def reading_save(*, id: int | None, document: IngredientReading) -> int:
    """Add a pH reading, or replace the one with this id; one of a food is in use at a time."""
    return _save(READINGS, id, document)


def reading_delete(*, id: int) -> None:
    """Forget a pH reading; the food's usual pH counts again."""
    _delete(READINGS, id)


def _reading_row(row_id: int, reading: IngredientReading) -> ReadingRow:
    catalog = kitchen_catalog()
    found = catalog.find(reading.material)
    return ReadingRow(row_id, reading, _usual_ph(catalog.usual(found.material)) if found else None)


def _usual_ph(material: Material) -> Estimate | None:
    usual, citation = material.ph, material.ph_citation
    if usual is None:
        return None
    evidence = (citation,) if citation else ()
    return Estimate(usual.value, "pH", usual.low, usual.high, "usual pH of the food", evidence)


def _save(shelf: Shelf[D], row_id: int | None, document: D) -> int:
    tidy = tidied(document)
    for fault in faults(tidy, own_names_read()):
        raise fault.error()
    with writing():
        before = None if row_id is None else shelf.get(row_id)
        if before is not None and shelf.name_of(before) != shelf.name_of(tidy):
            # A price of another name is another price; the old name has none from now on.
            price_note(shelf.entity, before, is_gone=True)
        saved = shelf.put(tidy, row_id=row_id, saved_at=now())
        price_note(shelf.entity, tidy)
        if isinstance(tidy, Lot) and tidy.in_use:
            lots_settle((tidy,), saved_at=now())
        if isinstance(tidy, IngredientReading) and tidy.in_use:
            readings_settle((tidy,), saved_at=now())
        pantry_touch()
    return saved


def _delete(shelf: Shelf[D], row_id: int) -> None:
    with writing():
        price_note(shelf.entity, shelf.get(row_id), is_gone=True)
        shelf.remove(row_id)
        pantry_touch()
