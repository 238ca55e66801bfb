"""A shopping list as a table for a spreadsheet."""

from setwell.domain.formula import Formula
from setwell.engine.scale_up.results import ShoppingList
from setwell.services.csv_text import sheet_write
from setwell.services.formulas import version_get
from setwell.services.scale_up import ScaleUpAsk, shopping_of

_HEAD = (
    "supplier", "name", "needed_g", "waste_pct", "on_the_shelf_g", "pack_g", "packs", "to_buy_g",
    "left_over_g", "cost", "currency",
)  # fmt: skip


def shopping_csv(*, formula_id: int, number: int | None = None, ask: ScaleUpAsk) -> str:
    """Return what to buy for a saved version made large, as CSV; empty cells are not known."""
    detail = version_get(formula_id=formula_id, number=number)
    return shopping_csv_of(
        formula=detail.formula, ask=ask, formula_id=formula_id, number=detail.summary.number
    )


def shopping_csv_of(
    *, formula: Formula, ask: ScaleUpAsk, formula_id: int | None = None, number: int | None = None
) -> str:
    """Return what to buy for a formula made large, as CSV; empty cells are not known."""
    found = shopping_of(formula=formula, ask=ask, formula_id=formula_id, number=number)
    return sheet_write([_HEAD, *_rows(found)])


def _rows(shopping: ShoppingList) -> list[tuple[str, ...]]:
    return [
        (
            shelf.supplier, item.name, _grams(item.needed_g), f"{item.waste_pct:g}",
            _grams(item.stock_g), _grams(item.pack_g),
            "" if item.packs is None else str(item.packs), _grams(item.bought_g),
            _grams(item.left_g), "" if item.paid is None else f"{item.paid:.2f}",
            shopping.currency,
        )
        for shelf in shopping.shelves
        for item in shelf.items
    ]  # fmt: skip


def _grams(value: float | None) -> str:
    return "" if value is None else f"{value:.1f}"
