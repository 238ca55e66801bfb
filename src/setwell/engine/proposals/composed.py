"""A base told by its composition: a food of its own, in a copy of the catalog, and its lines."""

from dataclasses import dataclass, replace

import numpy as np

from setwell.domain.brief import Composition
from setwell.domain.pantry import Answer, OwnFood
from setwell.engine.blend_base import grams_text
from setwell.engine.catalog import Catalog
from setwell.engine.food_materials import own_food_material
from setwell.engine.material import NUTRIENT_INDEX, Material
from setwell.engine.names import name_normalize
from setwell.errors import InputError

_BATCH_G = 1000.0
# Milligrams of sodium in a gram of salt, from the atomic weights (22.990 / 58.44).
_SODIUM_PER_SALT = 393.4
# General factors, kcal/g: carbohydrate and protein 4, fat 9, alcohol 7.
_ENERGY = {"carbohydrate_g": 4.0, "protein_g": 4.0, "fat_g": 9.0, "alcohol_g": 7.0}
# Milk protein alone makes the base a kind of milk; beside other protein it comes as powder.
_MILK, _POWDER, _POWDER_NAME = "milk_skim", "milk_powder_skim", "skim milk powder"
_OF_MILK = ("calcium_mg", "potassium_mg", "sodium_mg", "magnesium_mg", "phosphorus_mg")
_NAMES_TRIED = 50


@dataclass(frozen=True, slots=True)
class Composed:
    """The food of a composition, the catalog that knows it, its kitchen lines and remarks."""

    food: OwnFood
    catalog: Catalog
    lines: tuple[str, ...]
    remarks: tuple[str, ...]


def composed_base(composition: Composition, catalog: Catalog) -> Composed:
    """Return a composition as a base of 1000 g. Raises InputError at the field `composition`."""
    _checked(composition)
    milk, other = composition.milk_protein_g, composition.protein_g
    told, said = _nutrients(composition), _untold(composition)
    if milk > 0 and other > 0:
        powder = catalog.materials[_POWDER]
        made = _with_powder(composition, told, catalog, powder)
        return replace(made, remarks=(*made.remarks, *said))
    if milk > 0:
        told, filled = _like_milk(told, catalog.materials[_MILK])
        said = (*filled, *said)
    food = _named(composition, told, catalog, based_on=_MILK if milk > 0 else "")
    return Composed(food, _with(catalog, food), (f"{_BATCH_G:g} g {food.name}",), said)


def _untold(composition: Composition) -> tuple[str, ...]:
    """Return what a composition leaves open and a cook has to know."""
    said = ["A composition tells no allergens or diets: check the labels of what is in it."]
    if composition.ph is None and composition.milk_protein_g <= 0:
        said.append("No pH is given, so it is taken as about neutral, with a wide range: read it.")
    return tuple(said)


def _checked(composition: Composition) -> None:
    parts = {
        "sugar": composition.sugar_g, "fat": composition.fat_g,
        "protein": composition.protein_g, "milk protein": composition.milk_protein_g,
        "starch": composition.starch_g, "alcohol": composition.alcohol_g,
        "salt": composition.salt_g,
    }  # fmt: skip
    total = sum(parts.values())
    if total > 100.0:
        listed = ", ".join(f"{grams:g} g {name}" for name, grams in parts.items() if grams > 0)
        raise InputError(
            f"{listed} add up to {total:g} g in 100 g of base; the rest has to be water.",
            field="composition",
            hint=f"Take {total - 100.0:g} g or more away.",
        )


def _nutrients(composition: Composition) -> dict[str, float]:
    """Return what is told, per 100 g under the names of the food table; the rest is water."""
    minerals = (composition.calcium_mg + composition.potassium_mg) / 1000.0
    protein = composition.protein_g + composition.milk_protein_g
    carbohydrate = composition.sugar_g + composition.starch_g
    ash = composition.salt_g + minerals
    dry = carbohydrate + composition.fat_g + protein + composition.alcohol_g + ash
    told = {
        "carbohydrate_g": carbohydrate, "sugars_g": composition.sugar_g,
        "starch_g": composition.starch_g, "fat_g": composition.fat_g, "protein_g": protein,
        "alcohol_g": composition.alcohol_g, "ash_g": min(ash, 100.0), "fiber_g": 0.0,
        "water_g": max(100.0 - dry, 0.0),
        "sodium_mg": composition.salt_g * _SODIUM_PER_SALT,
        "calcium_mg": composition.calcium_mg, "potassium_mg": composition.potassium_mg,
        "magnesium_mg": 0.0, "phosphorus_mg": 0.0,
    }  # fmt: skip
    return told | {"energy_kcal": sum(told[key] * factor for key, factor in _ENERGY.items())}


def _like_milk(told: dict[str, float], milk: Material) -> tuple[dict[str, float], tuple[str, ...]]:
    """Return the same with the salts that were left open as milk of that protein has them."""
    scale = told["protein_g"] / _of(milk, "protein_g")
    open_ones = [key for key in _OF_MILK if told[key] <= 0]
    filled = {key: _of(milk, key) * scale for key in open_ones}
    names = ", ".join(key.removesuffix("_mg") for key in open_ones)
    said = f"Not told, so taken as in skim milk with that much protein: {names}."
    return told | filled, (said,) if open_ones else ()


def _with_powder(
    composition: Composition, told: dict[str, float], catalog: Catalog, powder: Material
) -> Composed:
    """Return milk protein as skim milk powder beside a food that holds all the rest."""
    share = composition.milk_protein_g / _of(powder, "protein_g")
    rest_g = 100.0 * (1.0 - share)
    if rest_g <= composition.protein_g + composition.fat_g:
        raise InputError(
            f"{composition.milk_protein_g:g} g of milk protein come in {100.0 * share:.0f} g of "
            f"{_POWDER_NAME}, which leaves no room for the rest of 100 g.",
            field="composition",
            hint="Give less milk protein, or count the other protein as milk protein too.",
        )
    left = {key: max(told[key] - share * _of(powder, key), 0.0) for key in told}
    over = [
        key.rsplit("_", 1)[0]
        for key in ("sugars_g", "calcium_mg", "potassium_mg", "sodium_mg")
        if 0 < told[key] < share * _of(powder, key)
    ]
    rest = {key: amount / (1.0 - share) for key, amount in left.items()}
    food = _named(composition, rest, catalog)
    grams = _BATCH_G * share
    lines = (
        f"{grams_text(_BATCH_G - grams)} g {food.name}",
        f"{grams_text(grams)} g {_POWDER_NAME}",
    )
    remarks = [
        f"The milk protein comes as {_POWDER_NAME}, whose milk sugar and salts count as part of "
        "those you gave."
    ]
    if over:
        remarks.append(f"The powder alone brings more {' and '.join(over)} than you gave.")
    return Composed(food, _with(catalog, food), lines, tuple(remarks))


def _of(material: Material, key: str) -> float:
    return float(np.nan_to_num(material.nutrients[NUTRIENT_INDEX[key]]))


def _named(
    composition: Composition, nutrients: dict[str, float], catalog: Catalog, *, based_on: str = ""
) -> OwnFood:
    """Return the food under a name that is free, or that stands for the same food already."""
    plain = " ".join(name_normalize(composition.name).split()) or "base"
    is_animal_free = composition.protein_g + composition.milk_protein_g + composition.fat_g <= 0
    for number in range(1, _NAMES_TRIED):
        food = OwnFood(
            name=plain if number == 1 else f"{plain} no {number}",
            based_on=based_on,
            nutrients={key: round(min(amount, 1e6), 6) for key, amount in nutrients.items()},
            ph=composition.ph,
            vegan=Answer.YES if is_animal_free else None,
            vegetarian=Answer.YES if is_animal_free else None,
            note="from the composition of a brief",
        )
        found = catalog.find(food.name)
        if found is None or _is_same(found.material, own_food_material(food, catalog.materials)):
            return food
    raise InputError(
        f"“{composition.name}” is taken already.", field="composition", hint="Name it otherwise."
    )


def _is_same(one: Material, other: Material) -> bool:
    same = np.array_equal(one.nutrients, other.nutrients, equal_nan=True)
    return bool(same) and one.key == other.key and one.ph == other.ph


def _with(catalog: Catalog, food: OwnFood) -> Catalog:
    material = own_food_material(food, catalog.materials)
    return replace(
        catalog,
        materials={**catalog.materials, material.key: material},
        names={**catalog.names, name_normalize(food.name): material.key},
    )
