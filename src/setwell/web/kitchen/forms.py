"""The form of the kitchen's settings."""

from typing import Any

from django import forms
from pydantic import ValidationError

from setwell.domain.document import document_error
from setwell.domain.pantry import Kitchen
from setwell.web.inputs import NumberField, number_initial


class KitchenForm(forms.Form):
    """Name, currency and scale of the kitchen."""

    name = forms.CharField(
        label="Name of the kitchen",
        max_length=120,
        help_text="It is printed on every card.",
        error_messages={"required": "Give the kitchen a name."},
    )
    currency = forms.CharField(
        label="Currency",
        max_length=8,
        help_text="As it should be printed, such as USD.",
        error_messages={"required": "Name a currency, such as USD."},
    )
    scale_readability_g = NumberField(
        label="Smallest step of the scale, g",
        low=0,
        high=1000,
        unit="g",
        above=True,
        required=True,
        help_text="What the display counts in: 1 g, 0.1 g or 0.01 g.",
    )

    kitchen: Kitchen | None = None

    def clean(self) -> dict[str, Any]:
        """Build the settings."""
        values: dict[str, Any] = super().clean() or {}
        if not self.errors:
            try:
                self.kitchen = Kitchen.model_validate(values)
            except ValidationError as error:
                self.add_error(None, document_error(error).message)
        return values


def kitchen_initial(kitchen: Kitchen) -> dict[str, Any]:
    """Return what the form shows for stored settings."""
    return {
        "name": kitchen.name,
        "currency": kitchen.currency,
        "scale_readability_g": number_initial(kitchen.scale_readability_g),
    }
