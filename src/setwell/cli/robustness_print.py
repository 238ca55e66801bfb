"""Other kitchens for people, and as JSON."""

from setwell.cli.screen import Screen
from setwell.cli.shape import json_text
from setwell.documents.amounts import number_text
from setwell.documents.driver_bars import share_text
from setwell.documents.stranger_words import hundred_text
from setwell.services.results import Quantity, Robustness
from setwell.services.robustness import RobustnessAnswer

_DRIVERS_MOST = 8
_SAFETY = (
    "This is about texture alone. Whether it is safe to eat is for `setwell heat`, `setwell cool` "
    "and your local code, whatever the texture allows."
)


def robustness_json(answer: RobustnessAnswer) -> str:
    """Return other kitchens as JSON text."""
    return json_text("robustness", {"robustness": answer.result})


def robustness_print(answer: RobustnessAnswer) -> None:
    """Print the chance, what goes wrong, what drives it and what to change."""
    result, screen = answer.result, Screen()
    screen.text(answer.formula.title, style="bold")
    screen.text(f"{answer.sentence}.")
    screen.text(f"Right is: {result.window_text}.")
    if not result.is_planned_in:
        screen.text("Even a batch exactly as written misses this.", lead="Warning: ")
    if result.doubt_text:
        screen.text(result.doubt_text)
    _changes(screen, result)
    _premixes(screen, result)
    if result.failures:
        screen.heading("What goes wrong")
        screen.table(
            ("batches", "why"), [(hundred_text(one.share), one.text) for one in result.failures],
            fixed=(0,),
        )  # fmt: skip
    _drivers(screen, result)
    for quantity in result.quantities:
        _quantity(screen, quantity)
    screen.blank()
    for said in (*result.remarks, _SAFETY):
        screen.text(said)
    screen.text(f"{result.draws:,} batches, seed {result.seed}.")


def _changes(screen: Screen, result: Robustness) -> None:
    if not result.changes:
        return
    screen.heading("What to change, each alone: right with it")
    for one in result.changes:
        price = f" {one.price[:1].upper()}{one.price[1:]}." if one.price else ""
        screen.text(f"{one.title}. {one.text}{price}", lead=f"  {hundred_text(one.chance)}: ")


def _premixes(screen: Screen, result: Robustness) -> None:
    if not result.premixes:
        return
    screen.heading("Weigh a premix")
    for one in result.premixes:
        screen.text(one.text, lead="  ")


def _drivers(screen: Screen, result: Robustness) -> None:
    if not result.drivers:
        return
    screen.heading("What drives it")
    screen.table(
        ("what differs", "by itself", "with others", "by"),
        [
            (one.name, share_text(one.first_order.value), share_text(one.total.value), one.spread)
            for one in result.drivers[:_DRIVERS_MOST]
        ],
        right=(1, 2), fixed=(1, 2),
    )  # fmt: skip


def _quantity(screen: Screen, quantity: Quantity) -> None:
    if not quantity.quantiles:
        return
    near = {
        wanted: min(quantity.quantiles, key=lambda pair: abs(pair[0] - wanted))
        for wanted in (0.05, 0.5, 0.95)
    }
    said = ", ".join(
        f"{100 * share:.0f} % under {number_text(value)}" for share, value in near.values()
    )
    unit = "" if quantity.unit in {"", "1"} else f" {quantity.unit}"
    screen.text(
        f"{said}{unit}; as written {number_text(quantity.planned)}{unit}.",
        lead=f"{quantity.name[:1].upper()}{quantity.name[1:]}: ",
    )
