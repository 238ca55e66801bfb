"""The form of the kitchen's settings."""

from typing import Any

from django import forms
from pydantic import ValidationError

from setwell.domain.document import document_error
from setwell.domain.pantry import Kitchen, WaterHardness
from setwell.web.inputs import NumberField, number_initial

_HARDNESSES = tuple((one.value, one.value.capitalize()) for one in WaterHardness)


def _salt(label: str, grams_per_mole: float) -> NumberField:
    return NumberField(
        label=f"{label} in the water, mmol/L",
        low=0,
        high=50,
        unit="mmol/L",
        help_text="From the report of your water works: mg/L divided by "
        f"{grams_per_mole:g}. Empty means as its hardness.",
    )


class KitchenForm(forms.Form):
    """Name, currency, scale and water of the kitchen."""

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
    scale_most_g = NumberField(
        label="Heaviest load of the scale, g", low=0, high=1e6, unit="g", above=True,
        help_text="Heavier lines are told to be weighed in shares. Empty: not known.",
    )  # fmt: skip
    labor_per_hour = NumberField(
        label="Price of an hour of work", low=0, high=1e6,
        help_text="For the cost of a batch with hands. Empty: ingredients only.",
    )  # fmt: skip
    water_hardness = forms.ChoiceField(
        label="Tap water",
        choices=_HARDNESSES,
        required=False,
        help_text="Hard water brings calcium, and bicarbonate that takes up acid.",
    )
    water_calcium_mmol_l = _salt("Calcium", 40.1)
    water_magnesium_mmol_l = _salt("Magnesium", 24.3)
    water_bicarbonate_mmol_l = _salt("Bicarbonate", 61.0)

    kitchen: Kitchen | None = None

    def clean(self) -> dict[str, Any]:
        """Build the settings."""
        values: dict[str, Any] = super().clean() or {}
        if not self.errors:
            try:
                # A page from before this setting was there sends none.
                hardness = values["water_hardness"] or WaterHardness.MEDIUM
                self.kitchen = Kitchen.model_validate({**values, "water_hardness": hardness})
            except ValidationError as error:
                self.add_error(None, document_error(error).message)
        return values


def kitchen_initial(kitchen: Kitchen) -> dict[str, Any]:
    """Return what the form shows for stored settings."""
    return {
        "name": kitchen.name,
        "currency": kitchen.currency,
        "scale_readability_g": number_initial(kitchen.scale_readability_g),
        "scale_most_g": number_initial(kitchen.scale_most_g),
        "labor_per_hour": number_initial(kitchen.labor_per_hour),
        "water_hardness": kitchen.water_hardness.value,
        "water_calcium_mmol_l": number_initial(kitchen.water_calcium_mmol_l),
        "water_magnesium_mmol_l": number_initial(kitchen.water_magnesium_mmol_l),
        "water_bicarbonate_mmol_l": number_initial(kitchen.water_bicarbonate_mmol_l),
    }
