"""The form a formula is written in."""

import json
from typing import Any

from django import forms

from setwell.domain.formula import Diet, Formula, Goal, formula_make
from setwell.errors import InputError
from setwell.web.inputs import NumberField

UNTITLED = "Untitled"

_GOALS = (
    (Goal.UNSPECIFIED.value, "No goal yet"),
    (Goal.SLICE.value, "Slice: stands and cuts"),
    (Goal.SPOON.value, "Spoon: sets softly"),
    (Goal.SPREAD.value, "Spread"),
    (Goal.POUR.value, "Pour: thick, not set"),
)
_DIETS = tuple((diet.value, diet.value.capitalize()) for diet in Diet)
# The fields behind "Batch, molds, serving, diets".
_BATCH = (
    "evaporation_pct",
    "loss_pct",
    "portions",
    "serving_temperature_c",
    "mold_count",
    "mold_volume_ml",
    "diets",
)
# Fields of the document whose errors belong to a field of another name.
_FIELD_OF = {"molds": "mold_count"}


class FormulaForm(forms.Form):
    """One formula as typed; nothing is stripped from the ingredients or steps."""

    title = forms.CharField(
        label="Name",
        required=False,
        max_length=120,
        error_messages={
            "required": "Give the formula a name.",
            "max_length": "The name has %(show_value)d characters; at most 120 fit on a card.",
        },
    )
    goal = forms.ChoiceField(label="Goal", choices=_GOALS, required=False)
    ingredients = forms.CharField(
        label="Ingredients, one on each line",
        required=False,
        strip=False,
        help_text="Such as “500 g coconut milk”, “6 g kappa carrageenan”, “2 tbsp sugar”.",
        widget=forms.Textarea(
            attrs={"rows": 12, "spellcheck": "false", "autocapitalize": "off", "dir": "auto"}
        ),
    )
    steps = forms.CharField(
        label="Steps, one on each line",
        required=False,
        strip=False,
        help_text="Such as “Disperse the powder in the sugar”, “Heat to 85 °C and hold 2 min”.",
        widget=forms.Textarea(attrs={"rows": 6, "dir": "auto"}),
    )
    evaporation_pct = NumberField(
        label="Evaporates, %", low=0, high=90, unit="%", help_text="Of the batch, while cooking."
    )
    loss_pct = NumberField(
        label="Stays in pots, %", low=0, high=90, unit="%", help_text="Of the finished batch."
    )
    portions = NumberField(label="Portions", low=1, high=100_000, is_whole=True)
    mold_count = NumberField(label="Molds", low=1, high=10_000, is_whole=True)
    mold_volume_ml = NumberField(
        label="Volume of one mold, mL", low=0, high=100_000, unit="mL", above=True
    )
    serving_temperature_c = NumberField(
        label="Served at, °C", low=-40, high=120, unit="°C", help_text="4 °C is 39 °F."
    )
    diets = forms.MultipleChoiceField(
        label="Should fit", choices=_DIETS, required=False, widget=forms.CheckboxSelectMultiple
    )
    notes = forms.CharField(
        label="Notes", required=False, strip=False, widget=forms.Textarea(attrs={"rows": 4})
    )
    version_note = forms.CharField(
        label="What changed (optional)",
        required=False,
        max_length=200,
        error_messages={"max_length": "Keep this to 200 characters; there is room in Notes."},
    )
    base_number = forms.IntegerField(
        required=False, min_value=1, max_value=10**9, widget=forms.HiddenInput
    )
    parts = forms.CharField(required=False, widget=forms.HiddenInput)

    formula: Formula | None = None

    def __init__(self, *positional: Any, must_name: bool = False, **options: Any) -> None:  # noqa: ANN401
        super().__init__(*positional, **options)
        self.fields["title"].required = must_name

    @property
    def has_batch(self) -> bool:
        """True when something about batch, molds, serving or diets is filled in or wrong."""
        return any(self[name].value() or self[name].errors for name in _BATCH)

    def clean(self) -> dict[str, Any]:
        """Build the document; what it refuses becomes a message at the field."""
        values: dict[str, Any] = super().clean() or {}
        if (values.get("mold_count") is None) != (values.get("mold_volume_ml") is None):
            self.add_error("mold_count", "Give both the number of molds and the volume of one.")
        if self.errors:
            return values
        try:
            self.formula = formula_make(**_fields(values))
        except InputError as error:
            field = _FIELD_OF.get(error.field, error.field)
            self.add_error(field if field in self.fields else None, error.message)
        return values


def _fields(values: dict[str, Any]) -> dict[str, Any]:
    molds = None
    if values.get("mold_count") is not None:
        molds = {"count": values["mold_count"], "volume_ml": values["mold_volume_ml"]}
    return {
        "title": values.get("title") or UNTITLED,
        "ingredients": values["ingredients"],
        "steps": values["steps"],
        "goal": values.get("goal") or Goal.UNSPECIFIED.value,
        "diets": tuple(values.get("diets") or ()),
        "portions": values.get("portions"),
        "molds": molds,
        "evaporation_pct": values.get("evaporation_pct") or 0.0,
        "loss_pct": values.get("loss_pct") or 0.0,
        "serving_temperature_c": values.get("serving_temperature_c"),
        "notes": values["notes"],
        "parts": _parts(values.get("parts") or ""),
    }


def _parts(text: str) -> dict[str, str]:
    # Our own hidden field; when it was tampered with, parts are simply found again by title.
    try:
        parts = json.loads(text or "{}")
    except (ValueError, RecursionError):
        return {}
    return {str(key): str(value) for key, value in parts.items()} if isinstance(parts, dict) else {}
