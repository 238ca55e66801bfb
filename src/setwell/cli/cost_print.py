"""A cost for people, and as JSON."""

from setwell.cli.failure import warning_print
from setwell.cli.screen import Screen
from setwell.cli.shape import json_text
from setwell.provenance import Estimate
from setwell.services.costs import CostAnswer, CostDay, CostLine
from setwell.units import date_print, mass_print, number_print


def cost_json(answer: CostAnswer) -> str:
    """Return a cost as JSON text."""
    return json_text("cost", {"cost": answer})


def cost_print(answer: CostAnswer) -> None:
    """Print what a batch costs."""
    sheet, screen = answer.sheet, Screen()
    screen.text(sheet.title, style="bold")
    screen.text(_told(sheet.batch), lead="  Batch:    ")
    if sheet.per_portion is not None and sheet.portion_g is not None:
        portion = f"{_told(sheet.per_portion)} ({sheet.portions} of {mass_print(sheet.portion_g)})"
        screen.text(portion, lead="  Portion:  ")
    screen.text(_told(sheet.per_100g), lead="  100 g:    ")
    if sheet.labor is not None:
        screen.text(_told(sheet.labor), lead="  Work:     ")
    screen.text(
        f"{sheet.yield_pct:.0f} %: {mass_print(sheet.weighed_g)} weighed, "
        f"{mass_print(sheet.finished_g)} after steam, {mass_print(sheet.usable_g)} to serve",
        lead="  Yield:    ",
    )
    screen.blank()
    heads = ("line", "in it", "to buy", "per kg", "cost", "share", "name")
    rows = [_row(line) for line in sheet.lines]
    screen.table(heads, rows, right=(0, 1, 2, 3, 4, 5), fixed=(0, 1, 2, 3, 4, 5))
    if sheet.drivers:
        names = ", ".join(f"{line.name} ({line.share_pct:.0f} %)" for line in sheet.drivers)
        screen.text(f"Most of it: {names}.")
    for remark in sheet.remarks:
        screen.text(remark)
    _history(screen, answer.history, sheet.currency)
    if sheet.unpriced:
        warning_print(
            f"No price for {', '.join(sheet.unpriced)} ({sheet.unpriced_pct:.0f} % of the weight): "
            "what is printed is the least it can cost. Add prices to the pantry."
        )


def _told(amount: Estimate | None) -> str:
    if amount is None:
        return "not known"
    least = "at least " if amount.is_lower_bound else ""
    return f"{least}{_cash(amount.value)} {amount.unit}"


def _cash(amount: float) -> str:
    return f"{amount:,.2f}" if amount >= 0.1 or amount == 0 else f"{amount:,.3f}"


def _row(line: CostLine) -> tuple[str, ...]:
    return (
        str(line.number),
        mass_print(line.grams),
        mass_print(line.bought_g),
        _per_kg(line),
        "not known" if line.paid is None else _cash(line.paid),
        "" if line.share_pct is None else f"{line.share_pct:.0f} %",
        line.name,
    )


def _per_kg(line: CostLine) -> str:
    price = line.price
    if price is None:
        return "mixed"
    if price.is_free:
        return "free"
    return "not known" if price.price_per_kg is None else number_print(price.price_per_kg)


def _history(screen: Screen, days: tuple[CostDay, ...], currency: str) -> None:
    if len(days) < 2:
        return
    screen.heading("At the prices of other days")
    for day in days:
        least = "at least " if day.is_open else ""
        names = ", ".join(dict.fromkeys(change.name for change in day.changes))
        screen.text(
            f"{least}{_cash(day.ingredients)} {currency} ({names})",
            lead=f"  {date_print(day.day):>11}  ",
        )
