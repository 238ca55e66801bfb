"""What a formula costs: line by line, with hands and waste, and at the prices of earlier days."""

import datetime as dt
from dataclasses import dataclass

from setwell.domain.formula import Formula
from setwell.engine.cost_results import CostAsk, CostLine, CostSheet, LinePrice
from setwell.engine.cost_sheet import cost_sheet
from setwell.services.formulas import version_get
from setwell.services.materials import kitchen_catalog
from setwell.services.process_bench import kitchen_bench
from setwell.store.name_key import name_key
from setwell.store.price_paid_rows import PricePaid, price_paid_rows

__all__ = [
    "CostAnswer",
    "CostAsk",
    "CostDay",
    "CostLine",
    "CostSheet",
    "LinePrice",
    "PriceChange",
    "cost_of",
    "cost_view",
]

# More days than these make a list nobody reads.
_DAYS_SHOWN = 12


@dataclass(frozen=True, slots=True)
class PriceChange:
    """One price as it was written down; None: it was taken away."""

    name: str
    before_per_kg: float | None
    per_kg: float | None


@dataclass(frozen=True, slots=True)
class CostDay:
    """What the ingredients of the batch cost at the prices of one day, and what changed on it.

    `is_open` says that a price was missing on that day, so that the batch cost at least this.
    """

    day: dt.date
    changes: tuple[PriceChange, ...]
    ingredients: float
    is_open: bool


@dataclass(frozen=True, slots=True)
class CostAnswer:
    """The cost of one formula and how it moved."""

    sheet: CostSheet
    history: tuple[CostDay, ...]
    formula_id: int | None = None
    number: int | None = None


def cost_view(
    *, formula_id: int, number: int | None = None, ask: CostAsk | None = None
) -> CostAnswer:
    """Return the cost of a saved version."""
    detail = version_get(formula_id=formula_id, number=number)
    return cost_of(
        formula=detail.formula, ask=ask, formula_id=formula_id, number=detail.summary.number
    )


def cost_of(
    *,
    formula: Formula,
    ask: CostAsk | None = None,
    formula_id: int | None = None,
    number: int | None = None,
) -> CostAnswer:
    """Return the cost of a formula, saved or not."""
    bench = kitchen_bench(formula, formula_id=formula_id, number=number).bench
    kitchen = kitchen_catalog().kitchen
    sheet = cost_sheet(bench, kitchen=kitchen, ask=ask)
    return CostAnswer(sheet, _history(sheet), formula_id, number)


def _history(sheet: CostSheet) -> tuple[CostDay, ...]:
    """Return the days on which a price of this batch changed, the newest first."""
    parts = [part for line in sheet.lines for part in line.parts if not part.is_free]
    sources = {part.price_from for part in parts if part.price_from != ("", "")}
    paid = [one for one in price_paid_rows(sources) if one.currency == sheet.currency]
    known: dict[tuple[str, str], float | None] = {}
    days: list[CostDay] = []
    for day in sorted({_day(one) for one in paid}):
        changes = tuple(_change(one, known) for one in paid if _day(one) == day)
        days.append(_cost_day(day, changes, parts, known))
    return tuple(reversed(days))[:_DAYS_SHOWN]


def _day(one: PricePaid) -> dt.date:
    return one.recorded_at.astimezone().date()


def _key(shelf: str, name: str) -> tuple[str, str]:
    return shelf, name_key(name)


def _change(one: PricePaid, known: dict[tuple[str, str], float | None]) -> PriceChange:
    """Take a price as the one in force, and return how it changed."""
    key = _key(one.shelf, one.name)
    told = one.document
    before = known.get(key)
    known[key] = None if told is None else told.per_kg
    return PriceChange(one.name, before, known[key])


def _cost_day(
    day: dt.date,
    changes: tuple[PriceChange, ...],
    parts: list[LinePrice],
    known: dict[tuple[str, str], float | None],
) -> CostDay:
    prices = [(part, known.get(_key(part.price_from[0], part.price_from[1]))) for part in parts]
    total = sum(part.bought_g / 1000.0 * price for part, price in prices if price is not None)
    return CostDay(day, changes, total, any(price is None for _, price in prices))
