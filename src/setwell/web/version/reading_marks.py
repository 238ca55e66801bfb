"""Marks for templates: the section of pH readings, and a reading with its plus or minus."""

from django import template

from setwell.domain.reading import IngredientReading, VersionReading
from setwell.services import readings as measured
from setwell.web.rounding import NBSP, number_write
from setwell.web.version.reading_form import BENCH, VersionReadingForm

register = template.Library()


@register.filter
def with_plus_minus(reading: VersionReading | IngredientReading) -> str:
    """Print a pH reading.

    >>> with_plus_minus(VersionReading(ph=4.2)).replace("\\xa0", " ")
    '4.20 ± 0.05'
    """
    return f"{number_write(reading.ph, 2)}{NBSP}±{NBSP}{number_write(reading.plus_minus, 2)}"


@register.inclusion_tag("version/_readings.html")
def readings_section(
    formula_id: int, number: int, content_hash: str, page: str
) -> dict[str, object]:
    """List the readings of a formula, say which value counts, and offer to record one."""
    rows = measured.version_reading_list(formula_id=formula_id)
    return {
        "formula_id": formula_id,
        "number": number,
        "is_bench": page == BENCH,
        "rows": rows,
        "is_moved": any(row.number < number for row in rows),
        "counted": measured.measured_ph(content_hash=content_hash),
        "form": VersionReadingForm(initial={"page": page}, auto_id="reading_%s"),
    }
