"""The form of a label: market, serving, kind of food, own note; its values make the address."""

from typing import Any

from django import forms
from django.http import QueryDict

from setwell.errors import InputError
from setwell.services.labels import (
    MINOR,
    MINORS,
    KeptChoices,
    LabelAsk,
    PanelForm,
    Stage,
    ask_make,
    category_choices,
    market_choices,
    reference_choices,
)
from setwell.web.inputs import NumberField

_FORMS = ((PanelForm.FULL.value, "Full panel"), (PanelForm.SHORT.value, "Short, where allowed"))
_STAGES = ((Stage.DRAFT.value, "Draft"), (Stage.FINAL.value, "Final: tell what is missing"))
_MINORS = tuple(
    (key, "All by weight" if amount is None else f"Contains {amount:g}% or less of")
    for key, amount in MINORS.items()
)
# What is ticked in the answer.
_MANY = ("cleared", "shares")
FIRST = ("market", "category", "stage")
SERVING = ("reference", "container_g", "serving_g")
OWN = ("may_contain",)
LIST = ("species", "wordings", "emphasized", "minor", "by_number")
MORE = ("form", "measure", "piece_g", "density", "per_ml", "protein_score", "analyzed")
_ALL = frozenset((*FIRST, *SERVING, *OWN, *LIST, *MORE, *_MANY))


def asked_of(given: QueryDict, kept: KeptChoices | None) -> QueryDict:
    """Return what is asked for: what the address says, and where it says nothing what was kept.

    An address with the market or the stage alone asks for what was kept for that market.
    """
    if kept is None or _ALL.intersection(given) - {"market", "stage"}:
        return given
    asked = given.copy()
    for name, value in kept.fields.items():
        asked.setlist(name, value if isinstance(value, list) else [value])
    return asked


def carried(form: "LabelForm") -> list[tuple[str, str]]:
    """Return what a form holds, as hidden fields of another one would post it."""
    kept = [name for name in form.fields if form.data[name] and name != "stage"]
    given = [(name, str(form.data[name])) for name in kept]
    return given + [(name, value) for name, values in form.many.items() for value in values]


class LabelForm(forms.Form):
    """One label of a formula; what is left empty comes from the formula."""

    market = forms.CharField(label="Market", required=False, widget=forms.Select)
    category = forms.CharField(
        label="Kind of food", required=False, widget=forms.Select,
        help_text="Limits of additives hang on it.",
    )  # fmt: skip
    reference = forms.CharField(
        label="Eaten as", required=False, widget=forms.Select,
        help_text="The US amount of a serving; the EU has none.",
    )  # fmt: skip
    serving_g = NumberField(
        label="Own serving, g", low=0.1, high=5_000, unit="g",
        help_text="US: in place of the amount above. EU: a column per portion. 100 g is 3.5 oz.",
    )  # fmt: skip
    container_g = NumberField(
        label="In one package, g", low=0.1, high=100_000, unit="g",
        help_text="The US counts the servings in it.",
    )  # fmt: skip
    may_contain = forms.CharField(
        label="May contain, in your own words", required=False,
        widget=forms.Textarea(attrs={"rows": 2}),
        help_text="Traces your kitchen knows of. Nothing is computed here.",
    )  # fmt: skip
    stage = forms.ChoiceField(label="Stage", choices=_STAGES, required=False)
    form = forms.ChoiceField(label="US panel", choices=_FORMS, required=False)
    measure = forms.CharField(
        label="Own serving as measured", required=False, help_text="For example 1/3 cup."
    )
    piece_g = NumberField(
        label="One piece, g", low=0.1, high=5_000, unit="g", help_text="Of food sold in pieces."
    )
    density = NumberField(
        label="Density as weighed, g/mL", low=0.1, high=3, unit="g/mL",
        help_text="Weigh a level cup of it: grams by 240. Empty: computed, without air.",
    )  # fmt: skip
    per_ml = forms.BooleanField(label="EU: per 100 ml", required=False)
    protein_score = NumberField(
        label="US: protein score", low=0, high=1, above=True,
        help_text="Corrected for digestibility, from an analysis. A claim on protein needs the "
        "percentage that follows from it.",
    )  # fmt: skip
    analyzed = forms.CharField(
        label="Analyzed, per 100 g", required=False, widget=forms.Textarea(attrs={"rows": 3}),
        help_text="One to a line, as “iron 0.4”: fats, sugars, protein in g, minerals in mg, "
        "vitamin D in mcg. It takes the place of what is computed.",
    )  # fmt: skip

    species = forms.CharField(
        label="Species", required=False, widget=forms.Textarea(attrs={"rows": 2}),
        help_text="Of fish, crustaceans and nuts, one to a line: “fish: cod”.",
    )  # fmt: skip
    wordings = forms.CharField(
        label="Own names", required=False, widget=forms.Textarea(attrs={"rows": 3}),
        help_text="One to a line, by the key in “The list by weight”: “oat_drink: oat drink "
        "(water, oats)”.",
    )  # fmt: skip
    emphasized = forms.CharField(
        label="Stressed in name or picture", required=False,
        help_text="EU: ingredients whose share may then be due, with commas.",
    )  # fmt: skip
    minor = forms.ChoiceField(label="US phrase of small amounts", choices=_MINORS, required=False)
    by_number = forms.BooleanField(label="EU: additives by E number", required=False)

    ask: LabelAsk
    chosen: dict[str, Any]

    def __init__(self, asked: QueryDict, first: LabelAsk) -> None:
        usual = {
            "market": first.market.value,
            "category": first.category,
            "reference": first.reference,
            "form": first.form.value,
            "stage": first.stage.value,
            "minor": MINOR,
        }
        self.many = {name: asked.getlist(name) for name in _MANY}
        blank = dict.fromkeys(self.base_fields, "")
        super().__init__({name: asked.get(name, usual.get(name, "")) for name in blank})
        for name, choices in (
            ("market", market_choices()),
            ("category", category_choices()),
            ("reference", reference_choices()),
        ):
            self.fields[name].widget.choices = self._with_typed(name, choices)

    def _with_typed(self, name: str, choices: tuple[tuple[str, str], ...]) -> list[tuple[str, str]]:
        typed = self.data[name]
        known = typed in {key for key, _ in choices}
        return [*choices] if known else [*choices, (typed, f"{typed[:40]} (as typed)")]

    @property
    def has_more(self) -> bool:
        """True when something behind "More" is filled in or wrong."""
        return any(
            self.data[name] not in ("", PanelForm.FULL.value, MINOR) or self.errors.get(name)
            for name in (*LIST, *MORE)
        )

    def clean(self) -> dict[str, Any]:
        """Build what is asked; all that is wrong with it is told at once, each at its field."""
        values: dict[str, Any] = super().clean() or {}
        # What a field refused is left out: its message stands there already.
        made = ask_make({**values, **self.many})
        self.ask, self.chosen = made.ask, {**values, **self.many}
        for problem in made.problems:
            self.refuse(problem)
        return values

    def refuse(self, error: InputError) -> None:
        """Show what cannot be computed at the field it belongs to."""
        field = error.field if error.field in self.fields else None
        self.add_error(field, f"{error.message} {error.hint}".strip())
