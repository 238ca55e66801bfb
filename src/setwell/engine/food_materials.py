"""Foods of the tables and of the kitchen as materials."""

from collections.abc import Mapping
from dataclasses import replace
from functools import cache

import numpy as np

from setwell.domain.pantry import Answer, OwnFood
from setwell.engine.bought import with_bought
from setwell.engine.material import (
    MINERALS,
    NUTRIENT_INDEX,
    NUTRIENT_KEYS,
    Allergen,
    Array,
    Material,
    MaterialKind,
    Measure,
    Span,
)
from setwell.provenance import Citation, Grade
from setwell.tables.foods import SUGARS, FoodRow, food_rows, nutrient_spread

# What the kitchen typed itself; not in the bibliography because it is theirs.
KITCHEN_CITATION = Citation("this_kitchen", "entered in the pantry", Grade.MEASURED)


@cache
def food_materials() -> Mapping[str, Material]:
    """Return every table food as a material, by key."""
    return {key: _material(row) for key, row in food_rows().items()}


def _material(row: FoodRow) -> Material:
    spread = nutrient_spread(row.spread_kind)
    density = row.density
    return Material(
        key=row.key,
        name=row.name,
        kind=MaterialKind.FOOD,
        group=row.group,
        nutrients=np.array([_number(row.nutrients.get(key)) for key in NUTRIENT_KEYS]),
        spread=np.array([spread[key] for key in NUTRIENT_KEYS]),
        evidence=(row.citation,),
        table_key=row.key,
        sugars=np.array([_number(row.sugars[name]) for name in SUGARS]) if row.sugars else None,
        density=Span(density.value, density.low, density.high) if density else None,
        is_liquid=density is not None and density.kind == "liquid",
        measures={p.measure: Measure(p.grams, p.description) for p in row.portions},
        ph=Span(row.ph.value, row.ph.low, row.ph.high) if row.ph else None,
        ph_citation=row.ph.citation if row.ph else None,
        buffering=Span(row.buffering.value, row.buffering.low, row.buffering.high),
        buffering_citation=row.buffering.citation,
        dissolved=_dissolved(row),
        allergens=tuple(Allergen(t.allergen, t.kind, t.certainty) for t in row.allergens),
        vegan=row.vegan,
        vegetarian=row.vegetarian,
        diet_reason=row.diet_reason,
        enzyme=row.enzyme.name if row.enzyme else "",
        enzyme_certainty=row.enzyme.certainty if row.enzyme else "",
    )


def _number(value: float | None) -> float:
    return np.nan if value is None else value


def _dissolved(row: FoodRow) -> Array:
    shares = [row.dissolved[mineral] for mineral in MINERALS]
    return np.array([[s.value for s in shares], [s.low for s in shares], [s.high for s in shares]])


def own_food_material(food: OwnFood, known: Mapping[str, Material]) -> Material:
    """Return a food of the kitchen's own; what it leaves open comes from the food it copies.

    A food whose table food no longer exists keeps what was entered; the rest is unknown.
    """
    base = known.get(food.based_on)
    start = base or _blank(food.name)
    nutrients = start.nutrients.copy()
    for key, amount in food.nutrients.items():
        if key in NUTRIENT_INDEX:
            nutrients[NUTRIENT_INDEX[key]] = amount
    density = food.density_g_ml
    measures = {} if density else dict(start.measures or {})
    if food.each_g is not None:
        measures["each"] = Measure(food.each_g, "entered in the pantry")
    acidity = _own_ph(food) or start.ph
    own = replace(
        start,
        key=f"own:{food.name.casefold()}",
        name=food.name,
        group=start.group,
        nutrients=nutrients,
        evidence=(KITCHEN_CITATION, *start.evidence),
        density=Span(density, density * 0.98, density * 1.02) if density else start.density,
        is_liquid=start.is_liquid or (base is None and density is not None),
        measures=measures,
        ph=acidity,
        ph_citation=KITCHEN_CITATION if food.ph is not None else start.ph_citation,
        allergens=start.allergens
        if food.allergens is None
        else tuple(Allergen(name, "", "contains") for name in food.allergens),
        vegan=_answer(food.vegan, start.vegan),
        vegetarian=_answer(food.vegetarian, start.vegetarian),
    )
    return with_bought(own, food, ("food", food.name), is_another=True)


def _own_ph(food: OwnFood) -> Span | None:
    if food.ph is None:
        return None
    low = food.ph - 0.1 if food.ph_low is None else food.ph_low
    high = food.ph + 0.1 if food.ph_high is None else food.ph_high
    return Span(food.ph, min(low, food.ph), max(high, food.ph))


def _answer(own: Answer | None, table: str) -> str:
    return table if own is None else own.value


def _blank(name: str) -> Material:
    spread = nutrient_spread("natural")
    return Material(
        key="",
        name=name,
        kind=MaterialKind.FOOD,
        group="own",
        nutrients=np.full(len(NUTRIENT_KEYS), np.nan),
        spread=np.array([spread[key] for key in NUTRIENT_KEYS]),
        evidence=(),
        buffering=Span(10.0, 1.0, 40.0),
        dissolved=np.array([[1.0] * 4, [0.2] * 4, [1.0] * 4]),
    )
