"""Marks for the page about other kitchens: shares as counts of kitchens, and weights of a mix."""

from django import template

from setwell.services.robustness import PremixAdvice, hundred_text, premix_text, ten_text
from setwell.web.rounding import number_write

register = template.Library()

register.filter("of_ten", ten_text)
register.filter("of_hundred", hundred_text)


@register.filter
def gained(gain: float) -> str:
    """Return by how many kitchens of 100 a change is better."""
    return f"{number_write(100.0 * gain, 0)} more of 100"


@register.filter
def weigh_premix(advice: PremixAdvice) -> str:
    """Return what to weigh for a premix."""
    return premix_text(advice)


@register.filter
def whole(number: float) -> str:
    """Return a number without places, where more would pretend to know."""
    return number_write(number, 0)
