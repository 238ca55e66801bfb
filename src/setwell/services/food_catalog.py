"""Foods, of the tables and of the kitchen: search, and everything about one."""

import math
from dataclasses import dataclass

from setwell.engine.acid_materials import Dissolving, dissolving
from setwell.engine.catalog import Catalog
from setwell.engine.material import Allergen, Material, MaterialKind, Measure, Span
from setwell.engine.names import name_normalize
from setwell.errors import NotFoundError
from setwell.provenance import Estimate, Evidence, Grade, grade_worst
from setwell.services.materials import kitchen_catalog
from setwell.tables.foods import NUTRIENTS, food_rows

_OWN = "own:"
_DISSOLVED = {
    Dissolving.GIVES_ACID: "Gives acid once dissolved: the batch gets more acid.",
    Dissolving.TAKES_UP_ACID: "Takes up acid once dissolved: a sour batch gets less acid.",
    Dissolving.HOLDS_BETWEEN: "Once dissolved it makes a neutral batch more acid and a sour one "
    "less.",
    Dissolving.NEITHER: "Brings no acid and takes up none.",
}


@dataclass(frozen=True, slots=True)
class FoodSummary:
    """One food as a list shows it."""

    key: str
    name: str
    group: str
    kind: str
    source: str
    locator: str
    grade: Grade
    is_own: bool


@dataclass(frozen=True, slots=True)
class FoodNutrient:
    """One nutrient per 100 g; the estimate is None when it was never analyzed."""

    key: str
    label: str
    unit: str
    estimate: Estimate | None


@dataclass(frozen=True, slots=True)
class FoodPortion:
    """What one household measure or piece weighs."""

    measure: str
    grams: float
    description: str


@dataclass(frozen=True, slots=True)
class FoodDetail:
    """Everything known of one food."""

    summary: FoodSummary
    nutrients: tuple[FoodNutrient, ...]
    density: Estimate | None
    ph: Estimate | None
    # What a pure chemical does to the pH of a batch; blank for any other food.
    dissolved: str
    portions: tuple[FoodPortion, ...]
    allergens: tuple[Allergen, ...]
    vegan: str
    vegetarian: str
    diet_reason: str
    enzyme: str
    aliases: tuple[str, ...]
    price_per_kg: float | None
    note: str
    evidence: Evidence


def foods_search(*, search: str, limit: int = 30) -> tuple[FoodSummary, ...]:
    """Return the foods whose names hold these words, the closest first; own foods lead."""
    catalog = kitchen_catalog()
    wanted = name_normalize(search)
    ranks: dict[str, tuple[int, int]] = {}
    for name, key in catalog.names.items():
        if catalog.materials[key].kind is MaterialKind.FOOD:
            rank = _rank(name, wanted)
            if rank is not None:
                ranks[key] = min(rank, ranks.get(key, rank))
    ordered = sorted(
        ranks, key=lambda key: (ranks[key], not key.startswith(_OWN), catalog.materials[key].name)
    )
    return tuple(_summary(catalog.materials[key]) for key in ordered[: max(limit, 0)])


def food_detail(*, key: str) -> FoodDetail:
    """Return everything known of one food."""
    catalog = kitchen_catalog()
    material = catalog.materials.get(key)
    if material is None or material.kind is not MaterialKind.FOOD:
        raise NotFoundError(
            f"There is no food “{key[:60]}”.", hint="Search the foods by a word of the name."
        )
    row = food_rows().get(key)
    return FoodDetail(
        summary=_summary(material),
        nutrients=_nutrients(material),
        density=_span_estimate(material.density, "g/mL", _density_evidence(material)),
        ph=_span_estimate(
            material.ph, "pH", (material.ph_citation,) if material.ph_citation else ()
        ),
        dissolved=_dissolved(material),
        portions=_portions(material),
        allergens=material.allergens,
        vegan=material.vegan,
        vegetarian=material.vegetarian,
        diet_reason=material.diet_reason,
        enzyme=material.enzyme,
        aliases=_aliases(catalog, material),
        price_per_kg=material.price_per_kg,
        note=row.note if row else "",
        evidence=material.evidence,
    )


def _dissolved(material: Material) -> str:
    """Return what a pure chemical does to the pH; it has none itself before it is dissolved."""
    does = dissolving(material)
    if does is None:
        return ""
    unused = "" if material.ph is None else " The pH entered for it is not used."
    return f"{_DISSOLVED[does]} Counted by its formula.{unused}"


def _rank(name: str, wanted: str) -> tuple[int, int] | None:
    """Return how well a name answers a search, smaller is better; None when it does not."""
    if not wanted:
        return (0, 0)
    if name == wanted:
        return (0, 0)
    if name.startswith(wanted):
        return (1, len(name))
    words = wanted.split()
    if all(any(part.startswith(word) for part in name.split()) for word in words):
        return (2, len(name))
    return (3, len(name)) if all(word in name for word in words) else None


def _summary(material: Material) -> FoodSummary:
    first = material.evidence[0] if material.evidence else None
    return FoodSummary(
        key=material.key,
        name=material.name,
        group=material.group,
        kind=material.kind.value,
        source=first.source if first else "",
        locator=first.locator if first else "",
        grade=grade_worst(citation.grade for citation in material.evidence),
        is_own=material.key.startswith(_OWN),
    )


def _nutrients(material: Material) -> tuple[FoodNutrient, ...]:
    known = zip(NUTRIENTS, material.nutrients, material.spread, strict=True)
    return tuple(
        FoodNutrient(
            nutrient.key,
            nutrient.label,
            nutrient.unit,
            None
            if math.isnan(value)
            else _nutrient_estimate(material, value, spread, nutrient.unit),
        )
        for nutrient, value, spread in known
    )


def _nutrient_estimate(material: Material, value: float, spread: float, unit: str) -> Estimate:
    per_100g = f"{unit}/100 g"
    low, high = float(value * (1 - spread)), float(value * (1 + spread))
    return Estimate(float(value), per_100g, low, high, "food table", material.evidence)


def _span_estimate(span: Span | None, unit: str, evidence: Evidence) -> Estimate | None:
    if span is None:
        return None
    return Estimate(span.value, unit, span.low, span.high, "food table", evidence)


def _density_evidence(material: Material) -> Evidence:
    row = food_rows().get(material.key)
    if row is not None and row.density is not None:
        return (row.density.citation,)
    return material.evidence


def _portions(material: Material) -> tuple[FoodPortion, ...]:
    measures: dict[str, Measure] = dict(material.measures or {})
    return tuple(
        FoodPortion(name, measure.grams, measure.description) for name, measure in measures.items()
    )


def _aliases(catalog: Catalog, material: Material) -> tuple[str, ...]:
    own_name = name_normalize(material.name)
    names = (name for name, key in catalog.names.items() if key == material.key)
    return tuple(sorted(name for name in names if name != own_name))
