"""A packing sheet for people."""

from setwell.cli.failure import warning_print
from setwell.cli.screen import Screen
from setwell.services.kits import KitAnswer


def kit_print(answer: KitAnswer) -> None:
    """Print the bags of one kit, and what all kits take."""
    sheet, screen = answer.sheet, Screen()
    screen.text(sheet.title, style="bold")
    screen.text(sheet.lead)
    for bag in sheet.bags:
        screen.heading(f"Bag {bag.letter} {bag.heading}".strip())
        rows = [(one.weight, one.tolerance, one.total, one.name, one.lot) for one in bag.items]
        heads = ("one kit", "tolerance", "all kits", "powder", "lot")
        screen.table(heads, rows, right=(0, 1, 2), fixed=(0, 1, 2))
        screen.text(f"Filled bag, powders only: {bag.net}")
        for item in bag.items:
            if item.advice:
                screen.text(item.advice, lead=f"  {item.name}: ")
    for text, _ in sheet.premixes:
        screen.text(text, lead="Or a premix: ")
    screen.blank()
    screen.text(f"Contains: {sheet.label.allergens}.")
    if sheet.label.adds:
        screen.text(f"The cook adds: {'; '.join(sheet.label.adds)}.")
    screen.text(sheet.draft)
    for remark in sheet.remarks:
        warning_print(remark)
