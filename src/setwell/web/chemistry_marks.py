"""Marks for the chemistry panel: its drawings, and its figures in groups."""

import re
from collections.abc import Iterable

from django import template
from django.utils.safestring import SafeString, mark_safe

from setwell.provenance import Estimate, Evidence, evidence_join
from setwell.services import acid_order
from setwell.services.results import AgentOrder, Assessment, Figure
from setwell.units import unbroken
from setwell.web.rounding import MINUS, NBSP, number_write

register = template.Library()

_NEGATIVE = re.compile(r"(?<![\w.])-(?=\d)")

_ACID = frozenset({"ph", "ph_computed", "titratable"})
_IONS = frozenset({
    "potassium", "sodium", "calcium", "magnesium", "free_calcium", "free_potassium",
    "ionic_strength",
})  # fmt: skip
_TONES = {"good": ("good", "Fits"), "watch": ("warn", "Watch"), "note": ("note", "Note")}


@register.filter
def order_chart(order: AgentOrder) -> SafeString:
    """Draw strength kept against the hold."""
    return mark_safe(acid_order.acid_order_chart(order=order))  # noqa: S308 - escaped where written


@register.filter
def ph_chart(assessment: Assessment) -> SafeString:
    """Draw the pH on its line."""
    return mark_safe(acid_order.ph_line_chart(assessment=assessment))  # noqa: S308 - escaped there


@register.filter
def figure_groups(assessment: Assessment) -> tuple[tuple[str, tuple[Figure, ...]], ...]:
    """Return the figures that do not stand beside the pH, solids and water first, then ions."""
    rest = [figure for figure in assessment.solution if figure.key not in _ACID]
    return (
        ("Solids and water", tuple(figure for figure in rest if figure.key not in _IONS)),
        ("Ions", tuple(figure for figure in rest if figure.key in _IONS)),
    )


@register.filter
def figure_named(assessment: Assessment, key: str) -> Figure | None:
    """Return one figure of the water phase."""
    return assessment.figure(key)


@register.filter
def has_no_ph(figure: Figure) -> bool:
    """True where there is too little water for a pH."""
    return figure.is_none


@register.filter
def whole_percent(share: float) -> str:
    """Print a share of one in whole percent."""
    return f"{number_write(100.0 * share, 0)}{NBSP}%"


@register.filter
def kept(number: Estimate) -> str:
    """Print a share of the strength in whole percent; finer would pretend to know.

    >>> kept(Estimate(0.29, "%", 0.01, 3.7, "m")).replace("\\xa0", " ")
    '< 1 % (0 to 4)'
    """
    share = "< 1" if number.value < 0.5 else number_write(number.value, 0)
    if number.low is None or number.high is None:
        return f"{share}{NBSP}%"
    low, high = number_write(number.low, 0), number_write(number.high, 0)
    return f"{share}{NBSP}% ({low} to {high})"


@register.filter
def sentence(text: str) -> str:
    """Print a sentence of the engine with true minus signs and no break before a unit.

    >>> sentence("Ice begins at about -1.5 °C (29 °F).").replace("\\xa0", "_")
    'Ice begins at about −1.5_°C (29_°F).'
    """
    return unbroken(_NEGATIVE.sub(MINUS, text))


@register.filter
def tone_icon(tone: str) -> str:
    """Return the icon name for a tone."""
    return _TONES.get(str(tone), _TONES["note"])[0]


@register.filter
def tone_word(tone: str) -> str:
    """Return the word for a tone."""
    return _TONES.get(str(tone), _TONES["note"])[1]


@register.filter
def told_evidence(told: Iterable[object]) -> Evidence:
    """Return all evidence behind several sentences, once each."""
    return evidence_join(getattr(item, "evidence", ()) for item in told)
