"""A material with what this kitchen pays for it."""

from dataclasses import replace

from setwell.domain.buying import Stocked
from setwell.engine.material import Material


def with_bought(
    material: Material,
    bought: Stocked,
    price_from: tuple[str, str],
    *,
    is_another: bool = False,
) -> Material:
    """Return the material as it is bought; what is left open stays as it was.

    `price_from` is the shelf and the name in the pantry, so that a price can be looked up. What
    has its own price and `is_another` product than the material comes in packs of its own, too.
    """
    price = bought.per_kg
    if is_another and price is not None:
        material = replace(material, pack_g=None, supplier="")
    if is_another:
        # What stands there of the plain material is not this product.
        material = replace(material, stock_g=None, stock_from=("", ""))
    if bought.stock_g is not None:
        material = replace(material, stock_g=bought.stock_g, stock_from=price_from)
    return replace(
        material,
        price_per_kg=material.price_per_kg if price is None else price,
        price_from=material.price_from if price is None else price_from,
        waste_pct=material.waste_pct if bought.waste_pct is None else bought.waste_pct,
        pack_g=material.pack_g if bought.pack_g is None else bought.pack_g,
        supplier=bought.supplier or material.supplier,
    )
