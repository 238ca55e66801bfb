"""The form of a cost: hands and portions; its values make the address."""

from django import forms

from setwell.errors import InputError
from setwell.services.costs import CostAsk
from setwell.web.inputs import NumberField


class CostForm(forms.Form):
    """What the pantry does not know; empty is as the formula and the kitchen have it."""

    labor_min = NumberField(
        label="Minutes of work", low=0, high=10_000, unit="min",
        help_text="For one batch. Empty: ingredients only.",
    )  # fmt: skip
    labor_per_hour = NumberField(
        label="Price of an hour", low=0, high=1e6, help_text="Empty: as in the kitchen settings."
    )
    portions = NumberField(
        label="Portions", low=1, high=100_000, is_whole=True, help_text="Empty: as the formula."
    )
    portion_g = NumberField(
        label="Or weight of one, g", low=0, high=1e6, unit="g", above=True,
        help_text="100 g is 3.5 oz.",
    )  # fmt: skip

    @property
    def ask(self) -> CostAsk:
        """What is asked."""
        return CostAsk(**{name: self.cleaned_data[name] for name in self.fields})

    def refuse(self, error: InputError) -> None:
        """Show what cannot be computed at the field it belongs to."""
        field = error.field if error.field in self.fields else None
        self.add_error(field, f"{error.message} {error.hint}".strip())
