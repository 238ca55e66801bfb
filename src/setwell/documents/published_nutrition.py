"""Nutrients of a label that is settled, under the names that schema.org has for them."""

from setwell.documents.published_card import RecipeNutrition
from setwell.engine.labels.panel_results import EuPanel, Form, PanelRow, UsPanel

_AS_US = "Rounded as on the draft of its label for the United States."
_AS_EU = "Rounded as on the draft of its label for the European Union."
# Row of the panel, name in schema.org, label on our page. Salt has no name there.
_ROWS = (
    ("calories", "calories", "Energy"),
    ("energy_kcal", "calories", "Energy"),
    ("fat", "fatContent", "Fat"),
    ("saturated_fat", "saturatedFatContent", "Saturated fat"),
    ("trans_fat", "transFatContent", "Trans fat"),
    ("cholesterol", "cholesterolContent", "Cholesterol"),
    ("carbohydrate", "carbohydrateContent", "Carbohydrate"),
    ("fiber", "fiberContent", "Fiber"),
    ("sugars", "sugarContent", "Sugars"),
    ("protein", "proteinContent", "Protein"),
    ("sodium", "sodiumContent", "Sodium"),
)


def label_nutrition(panel: UsPanel | EuPanel) -> RecipeNutrition | None:
    """Return what a panel declares for a serving or portion; None while it is not final."""
    if not panel.is_final:
        return None
    is_us = isinstance(panel, UsPanel)
    # The EU declares 100 g first and a portion beside it, where the kitchen named one.
    column = 0 if is_us else len(panel.columns) - 1
    amounts, left_out = [], []
    for key, name, label in _ROWS:
        row = panel.row(key)
        if row is None:
            continue
        if row.is_unknown or row.cells[column].printed.form is Form.UNKNOWN:
            left_out.append(label)
        else:
            amounts.append((name, label, _amount(row, column)))
    serving = panel.serving.text if isinstance(panel, UsPanel) else _portion(panel, column)
    return RecipeNutrition(serving, tuple(amounts), tuple(left_out), _AS_US if is_us else _AS_EU)


def _amount(row: PanelRow, column: int) -> str:
    text = row.cells[column].printed.text
    return f"{text} kcal" if row.key == "calories" else text


def _portion(panel: EuPanel, column: int) -> str:
    shown = panel.columns[column]
    return f"1 portion ({shown.grams:.4g} g)" if shown.key == "portion" else shown.key
