"""The shelves of the pantry: their words, forms and services."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from setwell.domain.document import Document
from setwell.services import pantry
from setwell.web.pantry import equipment_forms, forms
from setwell.web.pantry.food_form import FoodForm
from setwell.web.pantry.reading_form import IngredientReadingForm


@dataclass(frozen=True, slots=True)
class Shelf:
    """One kind of thing the kitchen owns."""

    slug: str
    entity: str
    title: str
    one: str
    lead: str
    form: type[forms.ShelfForm]
    rows: Callable[[], tuple[Any, ...]]
    get: Callable[[int], Any]
    save: Callable[..., int]
    delete: Callable[..., None]
    named_by: str = "name"

    def name_of(self, document: Document) -> str:
        """Return what a person calls this thing."""
        return str(getattr(document, self.named_by))

    @property
    def words(self) -> str:
        """The title as it stands within a sentence."""
        return self.title[:1].lower() + self.title[1:]


SHELVES = (
    Shelf(
        "foods", "food", "Foods", "food",
        "Foods of your own, or table foods adjusted to what you buy.",
        FoodForm, pantry.food_list, pantry.food_get, pantry.food_save, pantry.food_delete,
    ),
    Shelf(
        "agents", "agent", "Agents", "agent",
        "Texture agents as you buy them, each based on one of the chart.",
        forms.AgentForm,
        pantry.agent_list, pantry.agent_get, pantry.agent_save, pantry.agent_delete,
    ),
    Shelf(
        "lots", "lot", "Lots", "lot",
        "One delivery of an agent. The lot in use changes what is computed.",
        forms.LotForm, pantry.lot_list, pantry.lot_get, pantry.lot_save, pantry.lot_delete,
        "lot_code",
    ),
    Shelf(
        "prices", "price", "Prices", "price",
        "What table foods and agents cost this kitchen.",
        forms.PriceForm,
        pantry.price_list, pantry.price_get, pantry.price_save, pantry.price_delete,
        "material",
    ),
    Shelf(
        "molds", "mold", "Molds", "mold",
        "Molds, cups and frames: with their lengths, the time to set is computed.",
        equipment_forms.MoldForm,
        pantry.mold_list, pantry.mold_get, pantry.mold_save, pantry.mold_delete,
    ),
    Shelf(
        "vessels", "vessel", "Vessels", "vessel", "Pots, pans, bowls and pitchers.",
        equipment_forms.VesselForm,
        pantry.vessel_list, pantry.vessel_get, pantry.vessel_save, pantry.vessel_delete,
    ),
    Shelf(
        "hobs", "hob", "Hobs", "hob", "What heats the pots, with its power.",
        equipment_forms.HobForm,
        pantry.hob_list, pantry.hob_get, pantry.hob_save, pantry.hob_delete,
    ),
    Shelf(
        "cold-places", "cooler", "Cold places", "cold place",
        "Fridges, blast chillers, ice baths and counters where molds get cold.",
        equipment_forms.CoolerForm,
        pantry.cooler_list, pantry.cooler_get, pantry.cooler_save, pantry.cooler_delete,
    ),
    Shelf(
        "readings", "reading", "pH readings", "pH reading",
        "What your meter said of a food, by its lot. The reading in use counts instead of the "
        "usual pH.",
        IngredientReadingForm,
        pantry.reading_list, pantry.reading_get, pantry.reading_save, pantry.reading_delete,
        "material",
    ),
)  # fmt: skip


def shelf_find(slug: str) -> Shelf:
    """Return the shelf with this word."""
    return next(shelf for shelf in SHELVES if shelf.slug == slug)
