"""The forms of a pH reading: what every reading says, and the one of an ingredient."""

from typing import ClassVar

from django import forms

from setwell.domain.reading import METER_PLUS_MINUS, IngredientReading
from setwell.services.clock import today
from setwell.web.inputs import NumberField, number_initial
from setwell.web.pantry.forms import ShelfForm


class ReadingForm(ShelfForm):
    """What the meter showed, how sure it is, and when."""

    defaulted: ClassVar[tuple[str, ...]] = ("plus_minus",)

    ph = NumberField(
        label="pH",
        low=0,
        high=14,
        required=True,
        error_messages={"required": "Write what the meter showed."},
    )
    plus_minus = NumberField(
        label="Plus or minus",
        low=0.01,
        high=1,
        initial=number_initial(METER_PLUS_MINUS),
        help_text="A meter calibrated today 0.05, paper strips 0.5.",
    )
    taken_on = forms.DateField(
        label="Measured on",
        required=False,
        initial=today,
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
        error_messages={"invalid": "Write the date as 2027-03-31."},
    )
    temperature_c = NumberField(
        label="Sample at, °C", low=-40, high=120, unit="°C", help_text="20 °C is 68 °F."
    )
    note = forms.CharField(
        label="Note", required=False, max_length=2000, widget=forms.Textarea(attrs={"rows": 2})
    )


class IngredientReadingForm(ReadingForm):
    """The pH of one food, by its supplier lot."""

    document_class = IngredientReading
    field_order = ("material", "ph", "plus_minus", "lot_code", "in_use")

    material = forms.CharField(
        label="Food",
        max_length=120,
        help_text="As you write it on a line of a formula, or the name of a food of your own.",
        error_messages={"required": "Name the food."},
    )
    lot_code = forms.CharField(label="Lot code", max_length=120, required=False)
    in_use = forms.BooleanField(
        label="In use now",
        required=False,
        initial=True,
        help_text="One reading of a food is in use at a time; it changes what is computed.",
    )
