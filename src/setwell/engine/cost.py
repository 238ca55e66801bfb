"""What the ingredients of a batch cost."""

import numpy as np
from numpy.typing import NDArray

from setwell.domain.pantry import Kitchen
from setwell.engine.assessment import CostResult
from setwell.engine.food_materials import KITCHEN_CITATION
from setwell.engine.material import Material
from setwell.engine.plan import Plan
from setwell.provenance import Estimate

# Water and steam cost nothing worth naming.
_FREE = frozenset({"water"})


def cost(
    plan: Plan,
    masses: NDArray[np.float64],
    *,
    kitchen: Kitchen,
    usable_g: float,
    portions: int | None,
) -> CostResult:
    """Return the cost of one batch; `masses` (k,) grams. A lower bound while prices lack."""
    priced: dict[str, float] = {}
    for material, mass in zip(plan.materials, masses, strict=True):
        if material.cost_per_kg is not None:
            paid = float(mass) / 1000.0 * material.cost_per_kg
            # Two columns can share a name: two grades, or a food of the kitchen's own.
            priced[material.name] = priced.get(material.name, 0.0) + paid
    unpriced = tuple(
        material.name
        for material, mass in zip(plan.materials, masses, strict=True)
        if material.price_per_kg is None and mass > 0 and not is_free(material)
    )
    is_open = bool(unpriced) or has_unread(plan)
    if not priced:
        return CostResult(kitchen.currency, None, None, None, "", unpriced)
    total = sum(priced.values())
    currency = kitchen.currency
    return CostResult(
        currency=currency,
        batch=money(total, currency, is_open=is_open),
        per_portion=money(total / portions, currency, is_open=is_open) if portions else None,
        per_100g=money(100.0 * total / usable_g, currency, is_open=is_open)
        if usable_g > 0
        else None,
        driver=max(priced, key=lambda name: priced[name]),
        unpriced=unpriced,
    )


def has_unread(plan: Plan) -> bool:
    """True when a line, here or in a part, could not be read: it costs something too."""
    return bool(plan.unread_inside()) or any(not one.is_usable for one in plan.readings)


def lines_unread(count: int) -> str:
    """Return the first words of a sentence on lines that could not be read."""
    return (
        "1 line could not be read and is"
        if count == 1
        else f"{count} lines could not be read and are"
    )


def is_free(material: Material) -> bool:
    """True for tap water, which costs nothing worth naming."""
    return material.group in _FREE or material.key == "water_pure"


def money(value: float, currency: str, *, is_open: bool) -> Estimate:
    """Return an amount of money; open upwards while prices are missing."""
    return Estimate(
        value, currency, value, None if is_open else value, "prices in the pantry",
        (KITCHEN_CITATION,),
    )  # fmt: skip
