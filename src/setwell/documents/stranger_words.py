"""How shares of kitchens and the weights of a premix are said."""

from setwell.documents.amounts import number_text
from setwell.engine.robustness.results import PremixAdvice

# Beyond these, "10 of 10" and "0 of 10" would promise too much.
_SURE, _HOPELESS = 0.985, 0.015


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
