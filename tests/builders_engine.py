"""Short ways to write and assess a formula in tests of the engine."""

from typing import Any

from setwell.domain.formula import Formula, formula_make
from setwell.domain.pantry import Pantry
from setwell.engine.assess import assess
from setwell.engine.assessment import Assessment, Finding
from setwell.engine.catalog import catalog_build

HOT = "Whisk the powder with the sugar into the liquid\nHeat to 90 °C, hold 2 min, stirring\nChill"


def formula_of(*lines: str, steps: str = "", title: str = "Test cup", **fields: Any) -> Formula:
    """Return a formula of these ingredient lines."""
    return formula_make(title=title, ingredients="\n".join(lines), steps=steps, **fields)


def assess_of(
    *lines: str,
    steps: str = "",
    parts: tuple[Formula, ...] = (),
    pantry: Pantry | None = None,
    **fields: Any,
) -> Assessment:
    """Return the assessment of a formula of these lines."""
    return assess(
        formula_of(*lines, steps=steps, **fields),
        catalog=catalog_build(pantry) if pantry else None,
        parts={part.title: part for part in parts},
    )


def codes(assessment: Assessment) -> set[str]:
    """Return the codes of all findings."""
    return {finding.code for finding in assessment.findings}


def finding_of(assessment: Assessment, code: str) -> Finding:
    """Return the one finding with this code."""
    (found,) = [finding for finding in assessment.findings if finding.code == code]
    return found
