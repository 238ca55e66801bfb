"""Assess a formula with what this kitchen has."""

from setwell.domain.formula import Formula
from setwell.engine.assess import assess
from setwell.engine.assessment import Assessment
from setwell.services.materials import kitchen_catalog
from setwell.services.parts import parts_for


def formula_assess(*, formula: Formula) -> Assessment:
    """Return everything that can be computed for a formula, saved or not."""
    return assess(formula, catalog=kitchen_catalog(), parts=parts_for(formula))
