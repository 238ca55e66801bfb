"""How money and shares of it are written."""

from django import template

from setwell.web.rounding import NBSP, number_write

register = template.Library()


@register.filter
def cash(amount: float | None) -> str:
    """Print money in the currency of the heading; three places where cents say nothing.

    >>> cash(1234.5), cash(0.0123), cash(None)
    ('1,234.50', '0.012', '')
    """
    if amount is None:
        return ""
    return f"{amount:,.{2 if amount >= 0.1 or amount == 0 else 3}f}"


@register.filter
def rounded_percent(share: float | None) -> str:
    """Print a share that need not be exact: whole percents, tenths below ten."""
    if share is None:
        return ""
    return f"{number_write(share, 0 if share >= 10 else 1)}{NBSP}%"


@register.filter
def small_percent(share: float) -> str:
    """Print a small share by its first digit that counts.

    >>> small_percent(0.0408)
    '0.04\xa0%'
    """
    return f"{float(f'{share:.1g}'):g}{NBSP}%"


@register.filter
def tenth_percent(share: float | None) -> str:
    """Print how much dearer the whole gets when this share of it gets a tenth dearer."""
    return "" if share is None else rounded_percent(share / 10.0)
