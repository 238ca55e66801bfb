"""The form of a card: its kind, the address in its QR code, and lots at hand; and of a photo."""

from typing import Any

from django import forms
from django.http import QueryDict

from setwell.documents.card_parts import LotBox
from setwell.errors import InputError
from setwell.services import cards, photos
from setwell.services.cards import CardKind
from setwell.web.batch_asked import BatchForm
from setwell.web.inputs import NumberField

STRENGTH = "strength_"
_WORDS = {CardKind.HOME: "Home", CardKind.PRO: "Professional", CardKind.BENCH: "Bench"}


class CardForm(BatchForm):
    """What a card shows; it is asked for in the address of the page, so nothing is saved."""

    kind = forms.ChoiceField(
        label="Kind of card",
        required=False,
        choices=[(kind.value, f"{_WORDS[kind]}: {kind.meaning}") for kind in CardKind],
        widget=forms.RadioSelect,
    )
    address = forms.CharField(
        label="Address in the QR code",
        required=False,
        help_text="Empty: this page. For a published card write its address on the web.",
    )

    def __init__(self, asked: QueryDict) -> None:
        data = asked.copy()
        data.setdefault("kind", CardKind.PRO.value)
        super().__init__(data)
        for name in data:
            if name.startswith(STRENGTH) and len(name) < 80:
                self.fields[name] = _strength_field(name)

    def clean_address(self) -> str:
        """Take only what a phone can open."""
        given = str(self.cleaned_data["address"])
        try:
            return cards.address_checked(given) if given.strip() else ""
        except InputError as error:
            raise forms.ValidationError(f"{error.message} {error.hint}") from None

    @property
    def card_kind(self) -> CardKind:
        """The kind asked for, or the usual one where there is no such kind."""
        self.is_valid()
        return CardKind(self.cleaned_data.get("kind") or CardKind.PRO)

    @property
    def strengths(self) -> dict[str, float]:
        """The strengths that were given, by agent; those that cannot be read are left out."""
        self.is_valid()
        return {
            name.removeprefix(STRENGTH): value
            for name, value in self.cleaned_data.items()
            if name.startswith(STRENGTH) and value is not None
        }

    def lots_named(self, boxes: tuple[LotBox, ...]) -> list[forms.BoundField]:
        """Return the fields for lots of the agents of this card."""
        return [self._lot_named(box) for box in boxes]

    def _lot_named(self, box: LotBox) -> forms.BoundField:
        name = f"{STRENGTH}{box.agent}"
        self.fields.setdefault(name, _strength_field(name))
        bound = self[name]
        # What the cook calls it is known only once the card is made.
        bound.label = f"{box.name}: strength of your lot"
        return bound


def _strength_field(name: str) -> NumberField:
    return NumberField(
        label=name.removeprefix(STRENGTH).replace("_", " "),
        low=cards.STRENGTH_LEAST,
        high=cards.STRENGTH_MOST,
        help_text="Times the lot this card was written for; 1 is equal.",
    )


class PhotoForm(forms.Form):
    """A photo, and what it shows."""

    step = forms.TypedChoiceField(label="What it shows", coerce=int)
    file = forms.FileField(
        label="Photo",
        help_text="JPEG, PNG or WebP, up to 20 MB and 40 megapixels. It is made small, and what "
        "the camera noted (place, time, device) is not kept.",
        widget=forms.FileInput(attrs={"accept": "image/jpeg,image/png,image/webp"}),
        error_messages={
            "required": "Choose a photo.",
            "empty": "The file is empty. Choose the photo again.",
        },
    )
    caption = forms.CharField(
        label="Caption",
        required=False,
        help_text="For example “pours off the spoon in a ribbon”. Also read out in place of the "
        "photo.",
    )

    def __init__(
        self,
        *positional: Any,  # noqa: ANN401 - the framework's arguments
        places: tuple[photos.PhotoPlace, ...],
        **options: Any,  # noqa: ANN401
    ) -> None:
        super().__init__(*positional, **options)
        field = self.fields["step"]
        assert isinstance(field, forms.TypedChoiceField)  # noqa: S101 - declared above
        field.choices = [(place.number, place_words(place)) for place in places]

    def clean_file(self) -> Any:  # noqa: ANN401 - the framework's uploaded file
        """Refuse by size before reading."""
        file = self.cleaned_data["file"]
        try:
            photos.photo_size_check(size=file.size or 0, name=file.name or "")
        except InputError as error:
            raise forms.ValidationError(f"{error.message} {error.hint}".strip()) from None
        return file


def place_words(place: photos.PhotoPlace) -> str:
    """Return a place in words for a list."""
    if place.number == 0:
        return place.text
    text = place.text if len(place.text) <= 60 else f"{place.text[:60]}…"
    return f"Step {place.number}: {text}"
