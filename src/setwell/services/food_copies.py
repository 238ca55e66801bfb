"""Start a food of the kitchen's own from one of the table."""

import math

from setwell.domain.pantry import OwnFood
from setwell.engine.material import NUTRIENT_KEYS, MaterialKind
from setwell.errors import NotFoundError
from setwell.services.materials import table_catalog
from setwell.services.shelves import FOODS
from setwell.store.name_key import name_key

_NAME_LIMIT = 100


def food_copy(*, key: str) -> OwnFood:
    """Return a table food as an unsaved food of the kitchen's own, to be adjusted.

    Allergens, diets, density and household measures stay open: they keep coming from the
    table food until the kitchen says otherwise.
    """
    material = table_catalog().materials.get(key)
    if material is None or material.kind is not MaterialKind.FOOD:
        raise NotFoundError(f"There is no food “{key[:60]}” in the food table.")
    nutrients = {
        name: float(amount)
        for name, amount in zip(NUTRIENT_KEYS, material.nutrients, strict=True)
        if not math.isnan(amount)
    }
    acidity = material.ph
    return OwnFood(
        name=_free_name(material.name),
        based_on=key,
        nutrients=nutrients,
        ph_low=acidity.low if acidity else None,
        ph=acidity.value if acidity else None,
        ph_high=acidity.high if acidity else None,
    )


def _free_name(name: str) -> str:
    taken = FOODS.name_keys()
    wish = f"Our {name[:_NAME_LIMIT]}"
    count = 1
    while name_key(wish if count == 1 else f"{wish} {count}") in taken:
        count += 1
    return wish if count == 1 else f"{wish} {count}"
