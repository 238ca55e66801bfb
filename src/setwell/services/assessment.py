"""Assess a formula with what this kitchen has."""

from setwell.domain.formula import Formula
from setwell.engine.assess import assess
from setwell.engine.assessment import Assessment
from setwell.engine.material import Span
from setwell.services.materials import kitchen_catalog
from setwell.services.parts import parts_for
from setwell.services.readings import measured_ph


def formula_assess(*, formula: Formula) -> Assessment:
    """Return everything that can be computed for a formula, saved or not.

    A pH that this kitchen measured of the very same content counts instead of the estimate.
    """
    return assess(
        formula,
        catalog=kitchen_catalog(),
        parts=parts_for(formula),
        measured_ph=measured_span(formula),
    )


def measured_span(formula: Formula) -> Span | None:
    """Return the pH this kitchen measured of the very same content, or None."""
    reading = measured_ph(content_hash=formula.content_hash)
    if reading is None:
        return None
    low, high = reading.ph - reading.plus_minus, reading.ph + reading.plus_minus
    return Span(reading.ph, max(low, 0.0), min(high, 14.0))
