"""The form of a pH reading of a saved version."""

from django import forms

from setwell.domain.reading import VersionReading
from setwell.web.pantry.reading_form import ReadingForm

# Where a reading is recorded, and where its form leads back to.
BENCH, VERSION = "bench", "version"


class VersionReadingForm(ReadingForm):
    """What the meter showed of what was made from one version."""

    document_class = VersionReading

    page = forms.ChoiceField(
        choices=((BENCH, BENCH), (VERSION, VERSION)), required=False, widget=forms.HiddenInput
    )

    def document_fields(self, values: dict[str, object]) -> dict[str, object]:
        """Return the fields of the document, without the page that was left."""
        fields = super().document_fields(values)
        return {name: value for name, value in fields.items() if name != "page"}
