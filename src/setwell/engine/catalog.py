"""Everything a line can name: table foods, table agents and the kitchen's own."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from functools import cached_property

from setwell.domain.pantry import Kitchen, Mold, Pantry
from setwell.domain.reading import IngredientReading
from setwell.engine.agent_materials import agent_materials, own_agent_materials
from setwell.engine.bought import with_bought
from setwell.engine.food_materials import food_materials, own_food_material
from setwell.engine.material import Material, MaterialKind, Span
from setwell.engine.names import name_find, name_normalize, names_nearest
from setwell.engine.tap_water import with_hardness
from setwell.provenance import Citation, Grade
from setwell.tables.agents import agent_aliases
from setwell.tables.foods import food_aliases
from setwell.units import date_print

_REMEMBERED = 500
_OFFERED = 5


@dataclass(frozen=True)
class Found:
    """The material a name stands for, and what was assumed to get there."""

    material: Material
    assumption: str


@dataclass(frozen=True, eq=False)
class Catalog:
    """Materials by key and the names that lead to them."""

    materials: Mapping[str, Material]
    names: Mapping[str, str]
    assumptions: Mapping[str, str]
    kitchen: Kitchen
    molds: tuple[Mold, ...]
    # Foods as they were before a pH reading of this kitchen took the place of their usual pH.
    unmeasured: Mapping[str, Material] = field(default_factory=dict)

    def find(self, name: str) -> Found | None:
        """Return the material that a kitchen name stands for, or None."""
        name_found = name_find(name, self._self_names)
        if name_found is None:
            return None
        material = self.materials[self.names[name_found]]
        return Found(material, self.assumptions.get(name_found, ""))

    def usual(self, material: Material) -> Material:
        """Return a material as it is without the pH readings of this kitchen."""
        return self.unmeasured.get(material.key, material)

    def nearest(self, name: str) -> tuple[str, ...]:
        """Return the closest known names, for a name that was not found."""
        # Typing asks for the same unknown name again and again, and the search is slow.
        if name not in self._nearest:
            if len(self._nearest) >= _REMEMBERED:
                self._nearest.clear()
            self._nearest[name] = self._one_each(names_nearest(name, self.names))
        return self._nearest[name]

    def _one_each(self, names: tuple[str, ...]) -> tuple[str, ...]:
        """Keep the best name of each material: five spellings of one thing are no choice."""
        best = {self.names[name]: name for name in reversed(names)}
        kept = set(best.values())
        return tuple(name for name in names if name in kept)[:_OFFERED]

    @cached_property
    def _nearest(self) -> dict[str, tuple[str, ...]]:
        return {}

    @cached_property
    def _self_names(self) -> Mapping[str, str]:
        return {name: name for name in self.names}


def catalog_build(pantry: Pantry | None = None) -> Catalog:
    """Return the catalog of the tables plus one kitchen's own things."""
    pantry = pantry or Pantry()
    materials = dict(food_materials())
    with_hardness(materials, pantry.kitchen)
    materials.update(agent_materials(pantry.lots))
    names = {name_normalize(material.name): key for key, material in materials.items()}
    assumptions: dict[str, str] = {}
    for prefix, aliases in (("", food_aliases()), ("agent:", agent_aliases())):
        for alias, target in aliases.items():
            name = name_normalize(alias)
            names[name] = f"{prefix}{target.key}"
            if target.assumption:
                assumptions[name] = target.assumption
    for price in pantry.prices:
        # What a line would find comes first: cornstarch is a food and an agent.
        target_key = name_find(price.material, names) or price.material
        # What the lot in use cost is closer to the batch than what the agent usually costs.
        if target_key in materials and materials[target_key].price_from[0] != "lot":
            told = with_bought(materials[target_key], price, ("price", price.material))
            materials[target_key] = told
    own = [own_food_material(food, materials) for food in pantry.foods]
    own += own_agent_materials(pantry.agents, pantry.lots, materials)
    aliases_of = {food.name: food.aliases for food in pantry.foods}
    aliases_of |= {agent.name: agent.aliases for agent in pantry.agents}
    for material in own:
        materials[material.key] = material
        for written in (material.name, *aliases_of[material.name]):
            name = name_normalize(written)
            names[name] = material.key
            assumptions.pop(name, None)
    unmeasured = _readings_apply(pantry.readings, materials, names)
    return Catalog(materials, names, assumptions, pantry.kitchen, pantry.molds, unmeasured)


def _readings_apply(
    readings: Iterable[IngredientReading], materials: dict[str, Material], names: Mapping[str, str]
) -> dict[str, Material]:
    """Put measured pH in place of the usual one; return by key what the foods were before.

    A reading counts for what its name means on a line. Of several in use the newest counts.
    """
    unmeasured: dict[str, Material] = {}
    for reading in sorted(readings, key=lambda one: one.taken_on or date.min):
        key = name_find(reading.material, names)
        if reading.in_use and key is not None and materials[key].kind is MaterialKind.FOOD:
            unmeasured.setdefault(key, materials[key])
            materials[key] = with_reading(materials[key], reading)
    return unmeasured


def with_reading(material: Material, reading: IngredientReading) -> Material:
    """Return the material with the pH that this kitchen measured."""
    low, high = reading.ph - reading.plus_minus, reading.ph + reading.plus_minus
    return replace(
        material,
        ph=Span(reading.ph, max(low, 0.0), min(high, 14.0)),
        ph_citation=Citation("this_kitchen", _reading_locator(reading), Grade.MEASURED),
    )


def _reading_locator(reading: IngredientReading) -> str:
    lot = f"lot {reading.lot_code}" if reading.lot_code else ""
    day = date_print(reading.taken_on) if reading.taken_on else ""
    return ", ".join(part for part in ("pH reading", lot, day) if part)
