"""How shares of kitchens and the weights of a premix are said."""

import math

from setwell.documents.amounts import number_text
from setwell.domain.formula import Goal
from setwell.engine.robustness.results import PremixAdvice, Robustness

# Beyond these, "10 of 10" and "0 of 10" would promise too much.
_SURE, _HOPELESS = 0.985, 0.015
_GETS = {
    Goal.SLICE: "a slice",
    Goal.SPOON: "something to spoon",
    Goal.SPREAD: "something to spread",
    Goal.POUR: "something that pours",
    Goal.UNSPECIFIED: "a batch like yours",
}


def ten_text(share: float) -> str:
    """Return a share as kitchens of 10; near the ends it never says all or none.

    >>> ten_text(0.82), ten_text(0.97), ten_text(0.99), ten_text(0.004), ten_text(0.03)
    ('8 of 10', 'over 9 of 10', 'nearly all', 'nearly none', 'under 1 of 10')
    """
    if share >= _SURE:
        return "nearly all"
    if share <= _HOPELESS:
        return "nearly none"
    tens = round(10.0 * share)
    if tens == 10:
        return "over 9 of 10"
    return f"{tens} of 10" if tens else "under 1 of 10"


def hundred_text(share: float) -> str:
    """Return a share as batches of 100.

    >>> hundred_text(0.123), hundred_text(0.002), hundred_text(0.0)
    ('12 of 100', 'under 1 of 100', '0 of 100')
    """
    if 0.0 < share < 0.005:
        return "under 1 of 100"
    return f"{100.0 * share:.0f} of 100"


def premix_text(advice: PremixAdvice) -> str:
    """Return what to weigh for a dose that a scale cannot show; empty without a recipe."""
    recipe = advice.recipe
    if recipe is None:
        return ""
    parts = [f"{number_text(recipe.agent_g)} g {advice.name}"]
    parts.append(f"{number_text(recipe.carrier_g)} g {recipe.carrier}")
    return f"Weigh {' + '.join(parts)}, mix, use {number_text(recipe.take_g)} g of it"


def chance_sentence(result: Robustness, *, kitchens: str, goal: Goal, is_given: bool) -> str:
    """Return how many kitchens get it, with what the laws leave open; `is_given` is a window.

    The range is in whole kitchens of 10, rounded outward.
    """
    gets = "what you want" if is_given else _GETS[goal]
    low = math.floor(10.0 * result.chance_low + 1e-9)
    high = math.ceil(10.0 * result.chance_high - 1e-9)
    span = f" ({low} to {high})" if high > low else ""
    share = result.chance.value
    if share >= _SURE:
        said = "Nearly all"
    elif share <= _HOPELESS:
        said = "Next to no"
    else:
        about = {0: "Under 1", 10: "Over 9"}.get(round(10.0 * share), f"About {10.0 * share:.0f}")
        return f"{about} of 10 {kitchens} kitchens get {gets}{span}"
    doubt = f", {low} to {high} of 10" if span else ""
    return f"{said} {kitchens} kitchens get {gets}{doubt}"
