"""Between what is stored, what the form shows and what comes back from it."""

import json
from typing import Any

from django.http import QueryDict

from setwell.domain.formula import Formula
from setwell.web.formula.corrections import lines_correct, name_replace
from setwell.web.inputs import number_initial


def formula_initial(formula: Formula, *, base_number: int | None = None) -> dict[str, Any]:
    """Return what the form shows for a stored formula."""
    molds = formula.molds
    return {
        "title": formula.title,
        "goal": formula.goal.value,
        "ingredients": formula.ingredients,
        "steps": formula.steps,
        "evaporation_pct": number_initial(formula.evaporation_pct or None),
        "loss_pct": number_initial(formula.loss_pct or None),
        "portions": number_initial(formula.portions),
        "mold_count": number_initial(molds.count if molds else None),
        "mold_volume_ml": number_initial(molds.volume_ml if molds else None),
        "serving_temperature_c": number_initial(formula.serving_temperature_c),
        "diets": [diet.value for diet in formula.diets],
        "notes": formula.notes,
        "parts": json.dumps(formula.parts) if formula.parts else "",
        "base_number": base_number,
    }


def sheet_read(posted: QueryDict) -> QueryDict:
    """Return what was posted, with corrected lines and picked names put into the text."""
    sheet = posted.copy()
    text = sheet.get("ingredients", "").replace("\r\n", "\n")
    corrections = zip(
        sheet.getlist("line"), sheet.getlist("line_was"), sheet.getlist("line_text"), strict=False
    )
    text = lines_correct(text, corrections)
    number, _, names = sheet.get("replace", "").partition("|")
    old, _, new = names.partition("|")
    if new:
        text = name_replace(text, number, old, new)
    sheet["ingredients"] = text
    return sheet
