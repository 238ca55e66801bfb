"""A material: anything that a formula line can name, with everything known about it."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from setwell.provenance import Citation, Evidence
from setwell.tables.foods import NUTRIENTS

Array = NDArray[np.float64]

NUTRIENT_KEYS = tuple(nutrient.key for nutrient in NUTRIENTS)
NUTRIENT_INDEX = {key: position for position, key in enumerate(NUTRIENT_KEYS)}
MINERALS = ("sodium", "potassium", "calcium", "magnesium")


class MaterialKind(StrEnum):
    """What a line turned out to be."""

    FOOD = "food"
    AGENT = "agent"
    FORMULA = "formula"


@dataclass(frozen=True, slots=True)
class Span:
    """A value with its range."""

    value: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Measure:
    """What one household measure of this material weighs, in grams."""

    grams: float
    description: str


@dataclass(frozen=True, slots=True)
class Allergen:
    """One allergen of a material; `certainty` is "contains" or "check"."""

    allergen: str
    kind: str
    certainty: str


@dataclass(frozen=True, slots=True)
class AgentSide:
    """What makes a material a texture agent: which table agent, and how strong this lot is."""

    key: str
    strength_factor: float = 1.0
    bloom: float | None = None
    lot: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class Material:
    """One material of the catalog. `nutrients` are per 100 g, NaN where unknown."""

    key: str
    name: str
    kind: MaterialKind
    group: str
    nutrients: Array
    spread: Array
    evidence: Evidence
    # The table food or agent this is, or is a copy of.
    table_key: str = ""
    density: Span | None = None
    is_liquid: bool = False
    measures: Mapping[str, Measure] | None = None
    ph: Span | None = None
    ph_citation: Citation | None = None
    # Grams of each of SUGARS in 100 g, NaN where not analyzed; None where nothing is known.
    sugars: Array | None = None
    # Acids beyond those of the tables, mol of each system per kg.
    acids: Mapping[str, float] | None = None
    # Mean buffer capacity, mmol H+ per kg of food and pH unit.
    buffering: Span = Span(0.1, 0.02, 0.5)
    buffering_citation: Citation | None = None
    # Dissolved share of each of MINERALS: rows value, low, high.
    dissolved: Array | None = None
    allergens: tuple[Allergen, ...] = ()
    vegan: str = "check"
    vegetarian: str = "check"
    diet_reason: str = ""
    enzyme: str = ""
    enzyme_certainty: str = ""
    # As bought; `waste_pct` of it never reaches the batch.
    price_per_kg: float | None = None
    waste_pct: float = 0.0
    pack_g: float | None = None
    supplier: str = ""
    # The shelf and the name in the pantry that the price comes from.
    price_from: tuple[str, str] = ("", "")
    # As noted in the pantry, None where nobody did; and the shelf and the name it is noted at.
    stock_g: float | None = None
    stock_from: tuple[str, str] = ("", "")
    agent: AgentSide | None = None

    @property
    def cost_per_kg(self) -> float | None:
        """What a kilogram in the batch costs, with what is lost on the way; None if unknown."""
        if self.price_per_kg is None:
            return None
        return self.price_per_kg / (1.0 - self.waste_pct / 100.0)

    def has_allergen(self, allergen: str) -> bool:
        """True when the material certainly contains this allergen."""
        return any(
            tag.allergen == allergen and tag.certainty == "contains" for tag in self.allergens
        )
