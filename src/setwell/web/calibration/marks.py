"""Marks for templates: readings and checks in words, and what they move in a version."""

from collections.abc import Iterable

from django import template

from setwell.documents import measurement_words as words
from setwell.documents.measurement_words import kind_title, us_beside, value_text
from setwell.domain.formula import Formula
from setwell.domain.texture_reading import LotCheck, TextureReading
from setwell.provenance import Estimate
from setwell.services import texture_readings as measured
from setwell.services.results import Assessment, QuantityRow, ReadingUse
from setwell.services.texture_calibration import before_after, corrections_for
from setwell.web.rounding import MINUS, NBSP, number_plain, number_write

register = template.Library()

register.filter("kind_title", kind_title)
register.filter("us_beside", us_beside)


@register.filter
def told(document: TextureReading | LotCheck) -> str:
    """Return one reading or check in a few words."""
    if isinstance(document, LotCheck):
        return words.check_told(document)
    return words.reading_told(document)


@register.filter
def expected(use: ReadingUse | None) -> str:
    """Return what the tables expect instead of a reading; empty where they expect no number.

    >>> expected(None)
    ''
    """
    if use is None or use.computed is None:
        return ""
    return value_text(use.computed, use.unit)


@register.filter
def measured_value(use: ReadingUse) -> str:
    """Return what a reading measured, with its unit."""
    return value_text(use.measured, use.unit)


@register.filter
def agent_words(agent: str) -> str:
    """Return the key of an agent as words.

    >>> agent_words("kappa_carrageenan")
    'kappa carrageenan'
    """
    return agent.replace("_", " ")


@register.filter
def factor(number: Estimate) -> str:
    """Print a factor on the tables, or a shift in temperature, with its range.

    >>> factor(Estimate(0.55, "×", 0.4, 0.72, "m")).replace("\\xa0", " ")
    '0.55 times (0.4 to 0.72)'
    >>> factor(Estimate(-3.0, "K", -5.0, -1.0, "m")).replace("\\xa0", " ")
    '−3 °C (−5 to −1)'
    """
    low = number.value if number.low is None else number.low
    high = number.value if number.high is None else number.high
    if number.unit == "K":
        value, least, most = (_signed(one) for one in (number.value, low, high))
        return f"{value}{NBSP}°C ({least} to {most})"
    value, least, most = (number_plain(one, 2) for one in (number.value, low, high))
    return f"{value}{NBSP}times ({least} to {most})"


def _signed(degrees: float) -> str:
    places = 0 if abs(degrees) >= 1 else 1
    text = number_write(degrees, places)
    return text if text.startswith(MINUS) or text == "0" else f"+{text}"


@register.filter
def calibrated_told(assessment: Assessment) -> str:
    """Return by how many own measurements a texture is calibrated; empty where by none."""
    counts = [(agent.name, agent.gel.readings) for agent in assessment.agents]
    own = [(name, count) for name, count in counts if count]
    if not own:
        return ""
    if len(own) == 1:
        plural = "" if own[0][1] == 1 else "s"
        return f"Calibrated by {own[0][1]} of your own measurement{plural}"
    each = ", ".join(f"{name} {count}" for name, count in own)
    return f"Calibrated by your own measurements: {each}"


@register.inclusion_tag("calibration/_before_after.html")
def before_after_table(rows: Iterable[QuantityRow]) -> dict[str, object]:
    """Show each corrected quantity by the tables only, and now."""
    return {"rows": tuple(rows)}


@register.inclusion_tag("calibration/_version.html")
def texture_readings_section(
    formula_id: int, number: int, formula: Formula, *, is_own_page: bool = False
) -> dict[str, object]:
    """List the texture readings of a formula, what they dispute, and what they move."""
    found = corrections_for(formula=formula, formula_id=formula_id, number=number)
    uses = {use.id: use for use in found.readings if not use.is_lot_check}
    stored = measured.texture_reading_list(formula_id=formula_id)
    return {
        "formula_id": formula_id,
        "number": number,
        "is_own_page": is_own_page,
        "disputes": found.disputes,
        "rows": before_after(formula=formula, formula_id=formula_id, number=number),
        "readings": [(row, uses.get(row.id)) for row in stored],
        "others": sum(
            use.is_counted and (use.is_lot_check or use.formula_id != formula_id)
            for use in found.readings
        ),
    }
