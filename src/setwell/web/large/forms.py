"""The form of a large batch: how much, in what, and where it gets cold."""

from django import forms

from setwell.errors import InputError
from setwell.services import pantry
from setwell.services.scale_up import ScaleUpAsk
from setwell.web.inputs import NumberField
from setwell.web.version.forms import ScaleForm

_FIELD_OF = {
    "weight": "to_grams", "portions": "portion_g", "molds": "mold_ml", "count": "portion_count",
}  # fmt: skip
EQUIPMENT = ("vessel", "hob", "cooler", "fill_pct", "batches")


class LargeForm(ScaleForm):
    """A size as on the Scale page, and the equipment; empty is chosen or as planned."""

    vessel = forms.CharField(
        label="Vessel", max_length=120, required=False, widget=forms.Select,
        help_text="Empty: the one that takes the fewest batches.",
    )  # fmt: skip
    hob = forms.CharField(label="Hob", max_length=120, required=False, widget=forms.Select)
    cooler = forms.CharField(
        label="Cold place", max_length=120, required=False, widget=forms.Select
    )
    fill_pct = NumberField(
        label="Fill it to, %", low=5, high=95, unit="%",
        help_text="Empty: 80 %, or 65 % where a step boils.",
    )  # fmt: skip
    batches = NumberField(label="Batches", low=1, high=40, is_whole=True)

    def __init__(self, *positional: object, **options: object) -> None:
        super().__init__(*positional, **options)  # type: ignore[arg-type]
        own = pantry.pantry_get()
        for name, things in (
            ("vessel", own.vessels),
            ("hob", own.hobs),
            ("cooler", own.coolers),
        ):
            names = [thing.name for thing in things]
            typed = str(self.data.get(name, ""))
            kept = [typed] if typed and typed not in names else []
            self.fields[name].widget.choices = [("", "As planned"), *((n, n) for n in names + kept)]

    @property
    def ask(self) -> ScaleUpAsk:
        """What is asked."""
        given = {name: self.cleaned_data[name] for name in EQUIPMENT}
        return ScaleUpAsk(**self.scale_target, **given)

    def refuse(self, error: InputError) -> None:
        """Show what cannot be computed at the field it belongs to."""
        field = _FIELD_OF.get(error.field, error.field)
        self.add_error(
            field if field in self.fields else None, f"{error.message} {error.hint}".strip()
        )
