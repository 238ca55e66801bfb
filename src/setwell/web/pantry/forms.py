"""Forms for the materials that the kitchen owns."""

from typing import Any, ClassVar

from django import forms
from pydantic import ValidationError

from setwell.domain.document import Document, document_error
from setwell.domain.pantry import Lot, OwnAgent, Price
from setwell.web.inputs import LinesField, NumberField, number_initial

_MOST = 1e7
NAME_ERRORS = {"required": "Give it a name.", "max_length": "At most 120 characters fit."}


class BoughtFields(forms.Form):
    """How a material is bought; every shelf with a price has these fields."""

    price_per_kg = NumberField(
        label="Price per kg", low=0, high=_MOST, help_text="Or the pack and its price below."
    )
    pack_g = NumberField(
        label="A pack holds, g", low=0, high=_MOST, unit="g", above=True,
        help_text="What can be ordered. 1000 g is 2.2 lb.",
    )  # fmt: skip
    pack_price = NumberField(label="Price of a pack", low=0, high=_MOST)
    waste_pct = NumberField(
        label="Waste, %", low=0, high=95, unit="%",
        help_text="Peel, shells, trim, what stays in the bag: paid for, but not in the batch.",
    )  # fmt: skip
    supplier = forms.CharField(label="Supplier", max_length=120, required=False)
    stock_g = NumberField(
        label="On the shelf now, g", low=0, high=_MOST, unit="g",
        help_text="Shopping lists take it off. Nothing counts it down when you cook.",
    )  # fmt: skip


def _strength() -> NumberField:
    return NumberField(
        label="Strength",
        low=0,
        high=10,
        above=True,
        help_text="1 is as the chart says. 0.8 sets like four fifths as much powder.",
    )


def _bloom() -> NumberField:
    return NumberField(label="Bloom", low=30, high=400, help_text="Gelatin only.")


def note_field() -> forms.CharField:
    """Return the field for a remark."""
    return forms.CharField(
        label="Note", required=False, max_length=2000, widget=forms.Textarea(attrs={"rows": 3})
    )


class ShelfForm(forms.Form):
    """A form that makes one document of the pantry."""

    document_class: ClassVar[type[Document]]
    # Left out when empty, so that the document's own default holds.
    defaulted: ClassVar[tuple[str, ...]] = ()
    document: Document | None = None

    def clean(self) -> dict[str, Any]:
        """Build the document; what it refuses becomes a message at the field."""
        values: dict[str, Any] = super().clean() or {}
        if self.errors:
            return values
        try:
            self.document = self.document_class.model_validate(self.document_fields(values))
        except ValidationError as error:
            problem = document_error(error)
            self.refuse(problem.field, problem.message)
        return values

    def refuse(self, field: str, message: str) -> None:
        """Show a message at its field, or above the form."""
        self.add_error(field if field in self.fields else None, message)

    def document_fields(self, values: dict[str, Any]) -> dict[str, Any]:
        """Return the fields of the document from those of the form."""
        return {
            name: value
            for name, value in values.items()
            if not (name in self.defaulted and value is None)
        }

    @classmethod
    def initial_of(cls, document: Document) -> dict[str, Any]:
        """Return what the form shows for a stored document."""
        stored = document.model_dump()
        return {
            name: number_initial(value) if isinstance(value, float) else value
            for name, value in stored.items()
        }


class AgentForm(BoughtFields, ShelfForm):
    """A texture agent as this kitchen buys it."""

    document_class = OwnAgent
    field_order = (
        "name", "based_on", "aliases", "strength_factor", "bloom", "dose_low_pct", "dose_high_pct",
    )  # fmt: skip
    defaulted = ("strength_factor",)

    name = forms.CharField(label="Name", max_length=120, error_messages=NAME_ERRORS)
    based_on = forms.CharField(
        label="Based on",
        max_length=120,
        help_text="The agent of the chart that it is made of.",
        widget=forms.TextInput(attrs={"list": "agent-names", "autocomplete": "off"}),
        error_messages={"required": "Name the agent of the chart that it is made of."},
    )
    aliases = LinesField(label="Other names, one on each line")
    strength_factor = _strength()
    bloom = _bloom()
    dose_low_pct = NumberField(label="Dose from, %", low=0, high=100, unit="%")
    dose_high_pct = NumberField(label="Dose to, %", low=0, high=100, unit="%")
    note = note_field()


class LotForm(BoughtFields, ShelfForm):
    """One delivery of an agent."""

    document_class = Lot
    field_order = (
        "agent", "lot_code", "supplier", "in_use", "best_before", "strength_factor", "bloom",
        "molar_mass_kda",
    )  # fmt: skip
    defaulted = ("strength_factor",)

    agent = forms.CharField(
        label="Agent",
        max_length=120,
        widget=forms.TextInput(attrs={"list": "agent-names", "autocomplete": "off"}),
        error_messages={"required": "Name the agent."},
    )
    lot_code = forms.CharField(
        label="Lot code",
        max_length=120,
        error_messages={"required": "Copy the lot code from the bag."},
    )
    in_use = forms.BooleanField(
        label="In use now",
        required=False,
        help_text="One lot of an agent is in use at a time; it changes what is computed.",
    )
    best_before = forms.DateField(
        label="Best before",
        required=False,
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
        error_messages={"invalid": "Write the date as 2027-03-31."},
    )
    strength_factor = _strength()
    bloom = _bloom()
    molar_mass_kda = NumberField(
        label="Molar mass, kDa",
        low=20,
        high=5000,
        help_text="Kappa and iota only, when the supplier's sheet gives it; 550 counts as usual.",
    )
    note = note_field()


class PriceForm(BoughtFields, ShelfForm):
    """The price of a table food or agent."""

    document_class = Price
    field_order = ("material",)

    material = forms.CharField(
        label="Food or agent",
        max_length=120,
        error_messages={"required": "Name the food or agent."},
    )


class PantryImportForm(forms.Form):
    """A CSV file for one shelf."""

    file = forms.FileField(
        label="CSV file",
        help_text="With the same columns as an exported file.",
        error_messages={"required": "Choose a CSV file.", "empty": "This file is empty."},
    )
