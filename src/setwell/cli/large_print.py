"""A formula made large, for people and as JSON."""

from setwell.cli.failure import warning_print
from setwell.cli.scaled_print import scaled_print
from setwell.cli.screen import Screen
from setwell.cli.shape import json_text
from setwell.services.scale_up import LargePremix, ScaleUp, ShoppingList
from setwell.units import mass_print


def large_json(made: ScaleUp) -> str:
    """Return a large batch as JSON text; the whole processes stay with `setwell process`."""
    left_out = {"before", "after"}
    return json_text(
        "large-batch",
        {name: getattr(made, name) for name in ScaleUp.__dataclass_fields__ if name not in left_out}
        | {"safety": made.after.summary},
    )


def large_print(made: ScaleUp) -> None:
    """Print batches, weights of one, what changes with the size, premixes and shopping."""
    screen = Screen()
    scaled_print(made.each)
    screen.heading(f"{made.whole.target}: {made.split.words}")
    screen.text(f"{mass_print(made.whole.batch_g)} in all. {made.turns}".strip())
    for other in made.others:
        screen.text(f"Or {other.words}.")
    for line in made.heavy:
        screen.text(f"Weigh {line.name} ({mass_print(line.grams)}) in {line.shares} shares.")
    _sizes(screen, made)
    for premix in made.premixes:
        _premix(screen, premix)
    _shopping(screen, made.shopping)
    for one in made.advice:
        warning_print(f"{one.text} {one.action}")
    for remark in (*([made.steam] if made.steam else []), *made.remarks):
        warning_print(remark)


def _sizes(screen: Screen, made: ScaleUp) -> None:
    if not made.rows:
        return
    screen.heading("What changes with the size")
    screen.table(
        ("", "as the formula", "one batch"),
        [(row.label, row.before, row.after) for row in made.rows],
    )
    if made.chill_rounds > 1:
        screen.text(f"{made.molds_total} molds are chilled in {made.chill_rounds} rounds.")
    screen.text(made.after.summary, lead="Safety: ")


def _premix(screen: Screen, premix: LargePremix) -> None:
    screen.heading(f"Premix {premix.heading}".strip())
    screen.text(premix.text)
    for part in premix.parts:
        screen.text(
            f"  {part.name}: {mass_print(part.dose_g)} in a share, even to "
            f"{part.spread_pct.value:.2g} %"
        )
    screen.text(premix.note)


def _shopping(screen: Screen, shopping: ShoppingList) -> None:
    screen.heading("Shopping list")
    for shelf in shopping.shelves:
        screen.text(shelf.supplier or "No supplier known", style="bold")
        rows = [
            (
                mass_print(item.needed_g),
                "" if item.stock_g is None else mass_print(item.stock_g),
                "" if item.packs is None else f"{item.packs} of {mass_print(item.pack_g or 0.0)}",
                "not known" if item.paid is None else f"{item.paid:,.2f}",
                item.name,
            )
            for item in shelf.items
        ]
        heads = ("needed", "on the shelf", "packs", shopping.currency, "name")
        screen.table(heads, rows, right=(0, 1, 2, 3), fixed=(0, 1, 2, 3))
    for remark in shopping.remarks:
        screen.text(remark)
