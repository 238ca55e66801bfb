"""What the food tables give back: frozen rows with the origin of each figure."""

from collections.abc import Mapping
from dataclasses import dataclass

from setwell.provenance import Citation, Grade

SUGARS = ("sucrose", "glucose", "fructose", "lactose", "maltose")
MINERALS = ("sodium", "potassium", "calcium", "magnesium")


@dataclass(frozen=True, slots=True)
class Nutrient:
    """One nutrient with its unit per 100 g."""

    key: str
    label: str
    unit: str


@dataclass(frozen=True, slots=True)
class Density:
    """Mass per volume in g/mL; `bulk` is a heaped or packed solid in a cup."""

    value: float
    low: float
    high: float
    kind: str
    temperature_c: float | None
    citation: Citation
    note: str


@dataclass(frozen=True, slots=True)
class Portion:
    """What one household measure or one piece weighs."""

    measure: str
    grams: float
    description: str
    citation: Citation


@dataclass(frozen=True, slots=True)
class PhRange:
    """The pH a food usually brings along."""

    value: float
    low: float
    high: float
    citation: Citation
    note: str


@dataclass(frozen=True, slots=True)
class Buffering:
    """Mean buffer capacity in mmol H+ per kg of food and per pH unit."""

    value: float
    low: float
    high: float
    conditions: str
    citation: Citation
    note: str


@dataclass(frozen=True, slots=True)
class Fraction:
    """The share (0 to 1) of one mineral that is dissolved in the water phase."""

    value: float
    low: float
    high: float
    citation: Citation
    note: str


@dataclass(frozen=True, slots=True)
class AllergenTag:
    """One allergen; `certainty` is `contains`, or `check` when the label decides."""

    allergen: str
    kind: str
    certainty: str
    note: str


@dataclass(frozen=True, slots=True)
class Enzyme:
    """A protease that attacks gelatin while the food is raw."""

    name: str
    strength: str
    certainty: str
    citation: Citation
    note: str


@dataclass(frozen=True, slots=True)
class Alias:
    """The food that a kitchen word stands for, and what we assumed to get there."""

    key: str
    assumption: str


@dataclass(frozen=True, slots=True)
class FoodRow:
    """One food with everything the tables know about it, per 100 g where nothing else is said."""

    key: str
    name: str
    group: str
    nutrients: Mapping[str, float | None]
    grade: Grade
    source: str
    locator: str
    note: str
    density: Density | None
    portions: tuple[Portion, ...]
    ph: PhRange | None
    buffering: Buffering
    dissolved: Mapping[str, Fraction]
    allergens: tuple[AllergenTag, ...]
    vegan: str
    vegetarian: str
    diet_reason: str
    enzyme: Enzyme | None
    sugars: Mapping[str, float | None]

    @property
    def citation(self) -> Citation:
        """Where the composition comes from."""
        return Citation(self.source, self.locator, self.grade)

    @property
    def spread_kind(self) -> str:
        """Which column of the spread table applies: `pure` chemicals or `natural` foods."""
        return "pure" if self.group == "chemical" else "natural"
