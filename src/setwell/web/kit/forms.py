"""The form of dry kits; its values make the address."""

from typing import Any

from django import forms
from django.http import QueryDict

from setwell.errors import InputError
from setwell.services.kits import KIT_PAPERS, KitAsk
from setwell.web.inputs import NumberField

_FIRST = {"kits": "10", "spare_pct": "2", "paper": KIT_PAPERS[0]}


class KitForm(forms.Form):
    """How many kits, of what, weighed how; empty is as the formula and the kitchen have it."""

    kits = NumberField(label="Kits", low=1, high=500, is_whole=True)
    serves_g = NumberField(
        label="One kit makes, g", low=1, high=1e5, unit="g",
        help_text="To serve. Empty: as the formula.",
    )  # fmt: skip
    spare_pct = NumberField(
        label="Spare, %", low=0, high=50, unit="%", help_text="For what stays in scoops and dust."
    )
    readability_g = NumberField(
        label="Scale reads, g", low=0.0001, high=10, unit="g",
        help_text="Empty: the kitchen’s own.",
    )  # fmt: skip
    address = forms.CharField(
        label="Address of the card", max_length=400, required=False,
        help_text="For the QR code. Empty: the card in this kitchen.",
    )  # fmt: skip
    paper = forms.ChoiceField(label="Paper", choices=[(p, p) for p in KIT_PAPERS], required=False)
    lines = forms.TypedMultipleChoiceField(
        label="Lines to pack", coerce=int, required=False, widget=forms.CheckboxSelectMultiple,
        help_text="None ticked: all that keep dry.",
        error_messages={"invalid_choice": "%(value)s is not a line of this formula."},
    )  # fmt: skip

    def __init__(self, given: QueryDict, lines: tuple[tuple[int, str], ...]) -> None:
        told = given.copy()
        for name, value in _FIRST.items():
            told.setdefault(name, value)
        super().__init__(told)
        self.fields["lines"].choices = lines  # type: ignore[attr-defined]

    def clean(self) -> dict[str, Any]:
        """Ask for a number of kits."""
        values: dict[str, Any] = super().clean() or {}
        if values.get("kits") is None and "kits" not in self.errors:
            self.add_error("kits", "Write how many kits to pack.")
        return values

    @property
    def ask(self) -> KitAsk:
        """What is asked."""
        values = self.cleaned_data
        return KitAsk(
            kits=values["kits"],
            serves_g=values["serves_g"],
            spare_pct=values["spare_pct"] or 0.0,
            lines=tuple(values["lines"]) or None,
        )

    def refuse(self, error: InputError) -> None:
        """Show what cannot be packed at the field it belongs to."""
        field = error.field if error.field in self.fields else None
        self.add_error(field, f"{error.message} {error.hint}".strip())
