"""What all forms for measurements share: one document for each cup, faults at their field."""

from typing import Any, ClassVar

from django import forms
from pydantic import ValidationError

from setwell.domain.texture_reading import Taken
from setwell.services.clock import today
from setwell.web.inputs import NumberField

WET = 1e9


def load_field(label: str, **options: Any) -> NumberField:  # noqa: ANN401 - options of the field
    """Return a field for grams on a scale; what cannot be is told by the document."""
    return NumberField(label=label, low=-WET, high=WET, unit="g", **options)


def plunger_field() -> NumberField:
    """Return the field for the diameter of the plunger."""
    return NumberField(
        label="Plunger across, mm",
        low=2,
        high=80,
        unit="mm",
        help_text="Flat end. 12.7 mm is half an inch; 11.3 mm has 1 cm².",
    )


def choice_field(label: str, choices: dict[Any, str], **options: Any) -> forms.ChoiceField:  # noqa: ANN401
    """Return radio buttons, with a first one that says nothing."""
    offered = [("", "not noted"), *((key.value, word) for key, word in choices.items())]
    return forms.ChoiceField(
        label=label, choices=offered, required=False, widget=forms.RadioSelect, **options
    )


class MeasuredForm(forms.Form):
    """A form that makes one document for each cup that was measured.

    Cups are never put together: an odd one can then be set aside alone.
    """

    # Fields that hold the value of a cup, and what documents call a value.
    cups: tuple[str, ...] = ()
    value_names: ClassVar[tuple[str, ...]] = ("value", "values")
    # Shown behind a fold: right as they are, most of the time.
    folded: ClassVar[tuple[str, ...]] = (
        "plus_minus", "hours", "taken_on", "taken_by", "note",
    )  # fmt: skip

    taken_on = forms.DateField(
        label="Measured on",
        required=False,
        initial=today,
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
        error_messages={"invalid": "Write the date as 2027-03-31."},
    )
    plus_minus = NumberField(
        label="It repeats to, plus or minus %",
        low=0.1,
        high=200,
        unit="%",
        help_text="Empty is the usual 20 % of hands and a kitchen scale.",
    )
    hours = NumberField(label="Hours since it was poured", low=0, high=10_000, unit="h")
    taken_by = forms.CharField(label="Measured by", max_length=120, required=False)
    note = forms.CharField(
        label="Note", required=False, max_length=2000, widget=forms.Textarea(attrs={"rows": 2})
    )

    def __init__(self, *positional: Any, **options: Any) -> None:  # noqa: ANN401
        super().__init__(*positional, **options)
        self.documents: tuple[Taken, ...] = ()

    @property
    def shown_fields(self) -> list[forms.BoundField]:
        """The fields to fill in each time."""
        return [field for field in self.visible_fields() if field.name not in self.folded]

    @property
    def folded_fields(self) -> list[forms.BoundField]:
        """The fields behind the fold."""
        return [field for field in self.visible_fields() if field.name in self.folded]

    @property
    def is_unfolded(self) -> bool:
        """True where something behind the fold was changed or is wrong."""
        return any(field.errors for field in self.folded_fields) or (
            self.is_bound and any(name in self.folded for name in self.changed_data)
        )

    def clean(self) -> dict[str, Any]:
        """Build the documents; what they refuse becomes a message at its field."""
        values: dict[str, Any] = super().clean() or {}
        if self.errors:
            return values
        given = [cup for cup in self.cups if values.get(cup) is not None]
        made: list[Taken] = []
        for cup in given or [*self.cups[:1]] or [""]:
            try:
                made.append(self.document_of(values, cup))
            except ValidationError as error:
                self._refuse_all(error, cup)
        self.documents = () if self.errors else tuple(made)
        return values

    def document_of(self, values: dict[str, Any], cup: str) -> Taken:
        """Return what is written down of one cup."""
        raise NotImplementedError

    def common_fields(self, values: dict[str, Any]) -> dict[str, Any]:
        """Return the fields of a document as typed, without cups and empty ones."""
        names = [name for name in values if name not in self.cups and values[name] is not None]
        return {name: values[name] for name in names if values[name] != ""}

    def refuse(self, field: str, message: str) -> None:
        """Show a message at its field, or above the form."""
        name = field if field in self.fields else None
        if message not in self.errors.get(name or "__all__", []):
            self.add_error(name, message)

    def _refuse_all(self, error: ValidationError, cup: str) -> None:
        for one in error.errors():
            name = str(one["loc"][0]) if one["loc"] else ""
            said = str(one["msg"]).removeprefix("Value error, ")
            said = f"{said[:1].upper()}{said[1:]}".rstrip(".")
            self.refuse(cup if name in self.value_names else name, f"{said}.")
