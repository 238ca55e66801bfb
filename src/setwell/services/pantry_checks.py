"""What a thing of the pantry must fulfill beyond its own fields, before it is stored."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, TypeVar

from setwell.domain.document import Document
from setwell.domain.pantry import Lot, OwnAgent, OwnFood, Pantry, Price
from setwell.domain.reading import IngredientReading
from setwell.engine.agent_materials import takes_molar_mass
from setwell.engine.material import NUTRIENT_INDEX, MaterialKind
from setwell.engine.names import name_forms, name_normalize
from setwell.errors import InputError, UnknownNameError
from setwell.services.equipment_checks import equipment_faults
from setwell.services.materials import table_catalog
from setwell.services.shelves import AGENTS, FOODS
from setwell.store.name_key import name_key

D = TypeVar("D", bound=Document)

# These exclude each other; together they cannot outweigh the food. Analyses leave 2 g of slack.
_WHOLE = ("water_g", "protein_g", "fat_g", "carbohydrate_g", "alcohol_g", "ash_g")
_WHOLE_LIMIT_G = 102.0
# Fields that name something else.
_REFERENCES = frozenset({"based_on", "agent", "material"})


@dataclass(frozen=True, slots=True)
class Fault:
    """Why a thing cannot be stored as it is."""

    field: str
    message: str
    nearest: tuple[str, ...] = ()

    def error(self) -> InputError:
        """Return the fault as the error a form shows at its field."""
        if self.nearest:
            return UnknownNameError(self.message, field=self.field, nearest=self.nearest)
        return InputError(self.message, field=self.field)


@dataclass(frozen=True, slots=True)
class OwnNames:
    """Names already taken on the two shelves that a formula line can reach.

    `on_lines` are the names and aliases of own foods, in the form that lines are read in.
    """

    foods: frozenset[str] = frozenset()
    agents: frozenset[str] = frozenset()
    on_lines: frozenset[str] = frozenset()


def own_names_read() -> OwnNames:
    """Return the names of the kitchen's own foods and agents."""
    return _own_names(FOODS.documents(), AGENTS.documents())


def tidied(document: D) -> D:
    """Return a document with single spaces in its names, and each alias once."""
    changes: dict[str, Any] = {}
    for field in ("name", "based_on", "agent", "lot_code", "material", "supplier", "shape"):
        if hasattr(document, field):
            changes[field] = _single_spaced(getattr(document, field))
    for field in ("aliases", "allergens"):
        if getattr(document, field, None) is not None:
            words = map(_single_spaced, getattr(document, field))
            changes[field] = tuple(dict.fromkeys(word for word in words if word))
    if changes.get("shape") == "":
        changes["shape"] = "other"
    for field in ("note", "measured"):
        if not getattr(document, field, "x").strip():
            changes[field] = ""
    return document.model_copy(update=changes)


def faults(document: Document, own: OwnNames) -> Iterator[Fault]:
    """Yield every reason why a tidied document cannot be stored."""
    for field in ("name", "lot_code"):
        name = getattr(document, field, "x")
        # A reading need not name its lot.
        if not name_normalize(name) and not isinstance(document, IngredientReading):
            yield Fault(field, f"“{name}” has no letter or digit in it. Give it a name.")
    for field, message in equipment_faults(document):
        yield Fault(field, message)
    yield from _material_faults(document, own)


def _material_faults(document: Document, own: OwnNames) -> Iterator[Fault]:
    if isinstance(document, OwnFood):
        yield from _food_faults(document, own)
    elif isinstance(document, OwnAgent):
        yield from _agent_faults(document, own)
    elif isinstance(document, Lot):
        yield from _lot_faults(document, own)
    elif isinstance(document, Price):
        yield from _price_faults(document, own)
    elif isinstance(document, IngredientReading):
        yield from _reading_faults(document, own)


def pantry_warnings(pantry: Pantry) -> tuple[str, ...]:
    """Return what of the pantry rests on something the tables no longer have.

    A thing is checked when it is saved; a later edition of the tables may still drop what it
    was based on.
    """
    own = _own_names(pantry.foods, pantry.agents)
    things: tuple[Document, ...] = (
        *pantry.foods, *pantry.agents, *pantry.lots, *pantry.prices, *pantry.readings
    )  # fmt: skip
    return tuple(
        f"In the pantry, {fault.message}"
        for thing in things
        for fault in faults(thing, own)
        if fault.field in _REFERENCES
    )


def _own_names(foods: tuple[OwnFood, ...], agents: tuple[OwnAgent, ...]) -> OwnNames:
    return OwnNames(
        frozenset(name_key(food.name) for food in foods),
        frozenset(name_key(agent.name) for agent in agents),
        frozenset(name_normalize(name) for food in foods for name in (food.name, *food.aliases)),
    )


def _single_spaced(text: str) -> str:
    return " ".join(text.split())


def is_agent_name(name: str) -> bool:
    """Say whether a name leads to an agent of the tables."""
    catalog = table_catalog()
    if f"agent:{name}" in catalog.materials:
        return True
    found = catalog.find(name)
    return found is not None and found.material.kind is MaterialKind.AGENT


def _food_faults(food: OwnFood, own: OwnNames) -> Iterator[Fault]:
    if name_key(food.name) in own.agents:
        yield Fault("name", f"“{food.name}” already is one of your agents; use another name.")
    base = table_catalog().materials.get(food.based_on)
    if food.based_on and (base is None or base.kind is not MaterialKind.FOOD):
        yield Fault(
            "based_on",
            f"“{food.based_on}” is not the key of a table food. Leave it empty or pick one.",
            table_catalog().nearest(food.based_on),
        )
    for key in food.nutrients:
        if key not in NUTRIENT_INDEX:
            yield Fault("nutrients", f"“{key}” is not a nutrient of the food table.")
    whole = sum(food.nutrients.get(key, 0.0) for key in _WHOLE)
    if whole > _WHOLE_LIMIT_G:
        yield Fault(
            "nutrients",
            f"Water, protein, fat, carbohydrate, alcohol and ash add up to {whole:.4g} g in "
            "100 g of food. Check them against the label.",
        )
    yield from _ph_faults(food)


def _ph_faults(food: OwnFood) -> Iterator[Fault]:
    given = [ph for ph in (food.ph_low, food.ph, food.ph_high) if ph is not None]
    if given != sorted(given):
        yield Fault("ph", "The lowest pH must not be above the usual or the highest one.")
    if food.ph is None and given:
        yield Fault("ph", "The usual pH is missing; the range alone cannot be used.")


def _agent_faults(agent: OwnAgent, own: OwnNames) -> Iterator[Fault]:
    if name_key(agent.name) in own.foods:
        yield Fault("name", f"“{agent.name}” already is one of your foods; use another name.")
    if not is_agent_name(agent.based_on):
        yield Fault(
            "based_on",
            f"“{agent.based_on}” is not in the agent table. Pick the agent it behaves like.",
            table_catalog().nearest(agent.based_on),
        )
    low, high = agent.dose_low_pct, agent.dose_high_pct
    if low is not None and high is not None and low > high:
        yield Fault(
            "dose_low_pct", f"The lowest dose, {low:g} %, is above the highest, {high:g} %."
        )


def _lot_faults(lot: Lot, own: OwnNames) -> Iterator[Fault]:
    if name_key(lot.agent) not in own.agents and not is_agent_name(lot.agent):
        yield Fault(
            "agent",
            f"“{lot.agent}” is neither in the agent table nor one of your agents.",
            table_catalog().nearest(lot.agent),
        )
    if lot.molar_mass_kda is not None and not _takes_molar_mass(lot.agent, own):
        yield Fault(
            "molar_mass_kda",
            f"How the molar mass counts is known for kappa and iota carrageenan only, not for "
            f"“{lot.agent}”. Leave it empty and write it in the note.",
        )


def _takes_molar_mass(name: str, own: OwnNames) -> bool:
    """Say whether chains of another length change this agent; an own agent counts as it may."""
    if name_key(name) in own.agents:
        return True
    found = table_catalog().find(name)
    agent = None if found is None else found.material.agent
    return agent is not None and takes_molar_mass(agent.key)


def _price_faults(price: Price, own: OwnNames) -> Iterator[Fault]:
    catalog = table_catalog()
    name = price.material
    if price.per_kg is None and price.stock_g is None:
        said = "A price is missing: write it per kg, or for a pack, or note what is on the shelf."
        yield Fault("price_per_kg", said)
    if name_key(name) in own.foods | own.agents:
        yield Fault("material", f"“{name}” is one of your own: write its price there.")
    elif name not in catalog.materials and catalog.find(name) is None:
        yield Fault(
            "material",
            f"“{name}” is not in the tables. Write its price with your own food instead.",
            catalog.nearest(name),
        )


def _reading_faults(reading: IngredientReading, own: OwnNames) -> Iterator[Fault]:
    name = reading.material
    if any(form in own.on_lines for form in name_forms(name)):
        return
    found = table_catalog().find(name)
    if found is None:
        yield Fault(
            "material",
            f"“{name}” is neither in the food table nor one of your foods. Write it as on a line "
            "of a formula.",
            table_catalog().nearest(name),
        )
    elif found.material.kind is not MaterialKind.FOOD:
        yield Fault(
            "material",
            f"“{name}” is a texture agent; a pH reading belongs to a food. To count it, make "
            "a solution of it an own food.",
        )
