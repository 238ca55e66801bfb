"""What to buy for all of it: waste added, less the shelf, rounded up to packs, by supplier."""

import math

from setwell.engine.cost import has_unread, is_free, lines_unread, money
from setwell.engine.material import Material
from setwell.engine.rules.bench import Bench
from setwell.engine.scale_up.results import ShoppingList, ShoppingShelf, ToBuy

_NOT_STOCKED = (
    "No stock is noted in the pantry: take off what is on the shelf before you order, or note it."
)
_STOCKED = (
    "Stock is taken off as the pantry notes it; nothing counts it down. Look before you order."
)


def shopping_list(bench: Bench, *, factor: float, currency: str, row: int = 0) -> ShoppingList:
    """Return what to buy; `factor` is all of it against the formula as written."""
    masses = bench.state.masses[row] * factor
    bought, water = [], 0.0
    shelf: dict[tuple[str, str], float] = {}
    for material, grams in zip(bench.plan.materials, masses, strict=True):
        if grams <= 0:
            continue
        if is_free(material) and material.cost_per_kg is None:
            water += float(grams)
        else:
            bought.append((material, to_buy(material, float(grams), shelf)))
    known = [item.paid for _, item in bought if item.paid is not None]
    is_open = len(known) < len(bought) or has_unread(bench.plan)
    return ShoppingList(
        shelves=_by_supplier(bought),
        currency=currency,
        paid=money(sum(known), currency, is_open=is_open) if known or not is_open else None,
        water_g=water,
        remarks=_remarks(bench, [item for _, item in bought]),
    )


def to_buy(material: Material, grams: float, shelf: dict[tuple[str, str], float]) -> ToBuy:
    """Return what to buy so that these grams reach the batch.

    `shelf` holds what earlier lines left of each stock; two grades may come from one bag.
    """
    needed = grams / (1.0 - material.waste_pct / 100.0)
    stock = None
    if material.stock_g is not None:
        there = shelf.get(material.stock_from, material.stock_g)
        stock = min(needed, there)
        shelf[material.stock_from] = there - stock
    missing = needed - (stock or 0.0)
    pack, per_kg = material.pack_g, material.price_per_kg
    packs = None if pack is None else math.ceil(missing / pack - 1e-9)
    bought = missing if pack is None or packs is None else packs * pack
    is_bought = per_kg is not None or bought == 0.0
    paid = bought / 1000.0 * (per_kg or 0.0) if is_bought else None
    return ToBuy(
        material.name, needed, material.waste_pct, stock, pack, packs, bought, bought - missing,
        paid,
    )  # fmt: skip


def _by_supplier(bought: list[tuple[Material, ToBuy]]) -> tuple[ShoppingShelf, ...]:
    shelves: dict[str, list[ToBuy]] = {}
    for material, item in bought:
        shelves.setdefault(material.supplier, []).append(item)
    # Those without a supplier come last: somebody still has to find one.
    order = sorted(shelves, key=lambda name: (not name, name.casefold()))
    return tuple(
        ShoppingShelf(name, tuple(sorted(shelves[name], key=lambda item: item.name.casefold())))
        for name in order
    )


def _remarks(bench: Bench, items: list[ToBuy]) -> tuple[str, ...]:
    no_pack = [item.name for item in items if item.pack_g is None and item.bought_g > 0]
    no_price = [item.name for item in items if item.paid is None]
    unread = sum(not reading.is_usable for reading in bench.plan.readings)
    told = [_STOCKED if any(item.stock_g is not None for item in items) else _NOT_STOCKED]
    if no_pack:
        told.append(f"No pack is known for {', '.join(no_pack)}: the exact weight is listed.")
    if no_price:
        told.append(f"No price is known for {', '.join(no_price)}: it costs at least this.")
    if unread:
        told.append(f"{lines_unread(unread)} not on the list.")
    return tuple(told)
