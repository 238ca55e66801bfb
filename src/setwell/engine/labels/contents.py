"""What 100 g of a material bring to a panel, by market, with how much more or less it may be."""

from collections.abc import Callable
from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from setwell.engine.labels.fiber import fiber_content
from setwell.engine.material import NUTRIENT_INDEX, Material
from setwell.tables.labels.panel_tables import energy_factors

Array = NDArray[np.float64]

# Components that are a column of the composition table as it stands.
PLAIN = {
    "fat": "fat_g",
    "saturated_fat": "saturated_fat_g",
    "trans_fat": "trans_fat_g",
    "cholesterol": "cholesterol_mg",
    "sodium": "sodium_mg",
    "sugars": "sugars_g",
    "added_sugars": "added_sugars_g",
    "polyols": "polyol_g",
    "protein": "protein_g",
    "vitamin_d": "vitamin_d_ug",
    "calcium": "calcium_mg",
    "iron": "iron_mg",
    "potassium": "potassium_mg",
    "alcohol": "alcohol_g",
    "organic_acid": "organic_acid_g",
}
# Components whose meaning depends on the market, or that only the energy needs.
DERIVED = ("carbohydrate", "fiber", "undigested", "erythritol", "polyol_kcal")
COMPONENTS = (*PLAIN, *DERIVED)
COMPONENT_INDEX = {key: position for position, key in enumerate(COMPONENTS)}
_MINERALS = frozenset({"sodium", "calcium", "iron", "potassium"})
_PROXIMATE = ("water_g", "protein_g", "fat_g", "carbohydrate_g", "ash_g", "alcohol_g")
# Foods hold hardly any: what was not analyzed is inside the carbohydrate by difference.
_INSIDE = frozenset({"polyols", "organic_acid"})
# Energy of a sugar alcohol without a factor of its own [kcal/g]: that of carbohydrate.
_OTHER_POLYOL = 4.0


class Contents(NamedTuple):
    """Arrays (k, c) per 100 g; `above` and `below` are what missing figures could change."""

    value: Array
    wobble: Array
    above: Array
    below: Array


class _Cell(NamedTuple):
    value: float
    wobble: float = 0.0
    above: float = 0.0
    below: float = 0.0


@lru_cache(maxsize=256)
def label_contents(materials: tuple[Material, ...], market: str) -> Contents:
    """Return what each material brings, as the market defines its nutrients."""
    rows = [_material_cells(material, market) for material in materials]
    table = np.array([[row[key] for key in COMPONENTS] for row in rows], dtype=np.float64)
    table = table.reshape(len(rows), len(COMPONENTS), 4)
    return Contents(*(table[:, :, part] for part in range(4)))


def _material_cells(material: Material, market: str) -> dict[str, _Cell]:
    given = _reader(material)
    bounds = _bounds(given)
    cells = {}
    for key, nutrient in PLAIN.items():
        value = given(nutrient)
        if value is None:
            cells[key] = _Cell(0.0, above=0.0 if key in _INSIDE else bounds[key])
        else:
            cells[key] = _Cell(value, value * _spread(material, nutrient))
    return cells | _carbohydrates(material, market, bounds)


def _carbohydrates(material: Material, market: str, bounds: dict[str, float]) -> dict[str, _Cell]:
    """Carbohydrate and fiber: US with fiber and acids, EU without what is counted as fiber."""
    given = _reader(material)
    carbohydrate, acid = given("carbohydrate_g"), given("organic_acid_g") or 0.0
    content = fiber_content(material, market)
    share = content.counted_share
    fiber = _Cell(0.0, above=bounds["fiber"])
    if content.undigested is not None:
        fiber = _Cell(content.undigested, content.undigested * _spread(material, "fiber_g"))
    total = _Cell(0.0, above=bounds["carbohydrate"])
    if carbohydrate is not None:
        inside = _acid_inside(given, acid)
        moved = acid - inside if market == "us" else -inside - share * fiber.value
        value = max(carbohydrate + moved, 0.0)
        wobble = value * _spread(material, "carbohydrate_g")
        total = _Cell(value, wobble, 0.0, 0.0 if market == "us" else share * fiber.above)
    return {
        "carbohydrate": total,
        "fiber": _Cell(*(share * part for part in fiber)),
        "undigested": fiber,
        **_polyols(material, given("polyol_g") or 0.0),
    }


def _polyols(material: Material, grams: float) -> dict[str, _Cell]:
    factor = energy_factors("us").get(material.table_key)
    kcal = grams * (_OTHER_POLYOL if factor is None else factor.kcal_per_g)
    is_free = material.table_key == "erythritol"
    return {"erythritol": _Cell(grams if is_free else 0.0), "polyol_kcal": _Cell(kcal)}


def _acid_inside(given: Callable[[str], float | None], acid: float) -> float:
    """Return the acid that the carbohydrate by difference already holds."""
    whole = sum(given(key) or 0.0 for key in _PROXIMATE)
    return min(max(whole + acid - 100.0, 0.0), acid)


def _bounds(given: Callable[[str], float | None]) -> dict[str, float]:
    """Return the most that a missing figure can be: a part is no more than its whole."""
    rest = max(100.0 - sum(given(key) or 0.0 for key in _PROXIMATE), 0.0)

    def most(nutrient: str) -> float:
        value = given(nutrient)
        return rest if value is None else value

    fat, carbohydrate, ash = most("fat_g"), most("carbohydrate_g"), most("ash_g")
    sugars = given("sugars_g")
    most_sugars = carbohydrate if sugars is None else sugars
    return {
        "fat": fat,
        "saturated_fat": fat,
        "trans_fat": max(fat - (given("saturated_fat_g") or 0.0), 0.0),
        "cholesterol": 1000.0 * fat,
        **dict.fromkeys(_MINERALS, 1000.0 * ash),
        "sugars": most_sugars,
        "added_sugars": most_sugars,
        "protein": most("protein_g"),
        # It is analyzed as part of the fat.
        "vitamin_d": 1e6 * fat,
        "alcohol": rest,
        "carbohydrate": carbohydrate,
        "fiber": max(carbohydrate - (sugars or 0.0), 0.0),
    }


def _reader(material: Material) -> Callable[[str], float | None]:
    def given(nutrient: str) -> float | None:
        value = float(material.nutrients[NUTRIENT_INDEX[nutrient]])
        return None if np.isnan(value) else value

    return given


def _spread(material: Material, nutrient: str) -> float:
    return float(material.spread[NUTRIENT_INDEX[nutrient]])
