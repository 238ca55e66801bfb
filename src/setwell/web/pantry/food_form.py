"""The form of a food of the kitchen's own: the only one with many numbers."""

from typing import Any

from django import forms
from django.forms.boundfield import BoundField

from setwell.domain.document import Document
from setwell.domain.pantry import Answer, OwnFood
from setwell.services import catalog
from setwell.web.inputs import LinesField, NumberField, number_initial
from setwell.web.pantry.forms import BoughtFields, ShelfForm

# Fields of nutrients are named after the nutrient, with this in front.
PREFIX = "nutrient_"
_NONE = "none"
_ANSWERS = (
    ("", "As the table food"),
    (Answer.YES.value, "Yes"),
    (Answer.NO.value, "No"),
    (Answer.CHECK.value, "Check the label"),
)


class FoodForm(BoughtFields, ShelfForm):
    """A food of the kitchen's own, or a table food adjusted to what is bought."""

    document_class = OwnFood
    field_order = (
        "name", "based_on", "aliases", "density_g_ml", "each_g", "ph_low", "ph", "ph_high",
        "allergens", "vegan", "vegetarian",
    )  # fmt: skip

    name = forms.CharField(
        label="Name", max_length=120, error_messages={"required": "Give it a name."}
    )
    based_on = forms.CharField(
        label="Based on",
        max_length=120,
        required=False,
        help_text="Key of a table food; what you leave empty below comes from there.",
    )
    aliases = LinesField(label="Other names, one on each line")
    density_g_ml = NumberField(label="Density, g/mL", low=0, high=25, unit="g/mL", above=True)
    each_g = NumberField(label="One piece weighs, g", low=0, high=1e7, unit="g", above=True)
    ph_low = NumberField(label="pH, lowest seen", low=0, high=14)
    ph = NumberField(label="pH, usual", low=0, high=14)
    ph_high = NumberField(label="pH, highest seen", low=0, high=14)
    allergens = forms.CharField(
        label="Allergens",
        required=False,
        help_text="Separated by commas. “None” says there are none; empty means not said.",
    )
    vegan = forms.ChoiceField(label="Vegan", choices=_ANSWERS, required=False)
    vegetarian = forms.ChoiceField(label="Vegetarian", choices=_ANSWERS, required=False)
    note = forms.CharField(
        label="Note", required=False, max_length=2000, widget=forms.Textarea(attrs={"rows": 3})
    )

    def __init__(self, *positional: Any, **options: Any) -> None:  # noqa: ANN401
        super().__init__(*positional, **options)
        for nutrient in _nutrients():
            self.fields[f"{PREFIX}{nutrient.key}"] = NumberField(
                label=f"{nutrient.label}, {nutrient.unit}", low=0, high=1e7, unit=nutrient.unit
            )

    @property
    def nutrients(self) -> list[BoundField]:
        """The fields of nutrients, per 100 g."""
        return [self[name] for name in self.fields if name.startswith(PREFIX)]

    @property
    def main_fields(self) -> list[BoundField]:
        """All other fields."""
        return [self[name] for name in self.fields if not name.startswith(PREFIX)]

    def refuse(self, field: str, message: str) -> None:
        """Show a message at its field; one about nutrients names the nutrient itself."""
        super().refuse(field, message.removeprefix("nutrients: "))

    def document_fields(self, values: dict[str, Any]) -> dict[str, Any]:
        """Return the fields of the document; an empty answer means not said."""
        fields = {key: value for key, value in values.items() if not key.startswith(PREFIX)}
        fields["nutrients"] = {
            key.removeprefix(PREFIX): value
            for key, value in values.items()
            if key.startswith(PREFIX) and value is not None
        }
        fields["allergens"] = _allergens(values["allergens"])
        fields["vegan"] = values["vegan"] or None
        fields["vegetarian"] = values["vegetarian"] or None
        return fields

    @classmethod
    def initial_of(cls, document: Document) -> dict[str, Any]:
        """Return what the form shows for a stored food."""
        initial = super().initial_of(document)
        allergens = initial["allergens"]
        initial["allergens"] = "" if allergens is None else ", ".join(allergens) or _NONE
        for key, amount in initial.pop("nutrients").items():
            initial[f"{PREFIX}{key}"] = number_initial(amount)
        return initial


def _nutrients() -> tuple[catalog.FoodNutrient, ...]:
    # Every food lists every nutrient, so any food gives their names.
    some_food = catalog.foods_search(search="", limit=1)[0]
    return catalog.food_detail(key=some_food.key).nutrients


def _allergens(text: str) -> tuple[str, ...] | None:
    names = tuple(part.strip() for part in text.split(",") if part.strip())
    if not names:
        return None
    return () if [name.casefold() for name in names] == [_NONE] else names
