"""The forms that begin a probe log: a file, or readings by hand."""

from typing import Any

from django import forms

from setwell.domain.log_reading import ProbePlace
from setwell.domain.probe_log import PROBE_ERROR_C, Probe
from setwell.errors import InputError
from setwell.services.formulas import VersionSummary
from setwell.services.probe_judging import LogPurpose
from setwell.services.probe_uploads import FILE_LIMIT, probe_file_check
from setwell.units import number_parse, temperature_parse
from setwell.web.inputs import NumberField, number_initial

MOST_PROBES = 4
PLACES = [
    (ProbePlace.CORE.value, "core, the coldest or warmest spot"),
    (ProbePlace.BOTTOM.value, "bottom"),
    (ProbePlace.SURFACE.value, "surface"),
    (ProbePlace.TOP.value, "top"),
    (ProbePlace.FOOD.value, "in the food, not said where"),
    (ProbePlace.AIR.value, "air"),
    (ProbePlace.FRIDGE.value, "fridge"),
    (ProbePlace.BATH.value, "water bath"),
]
_DIGITS = frozenset("0123456789.,-−– ")


def error_field() -> NumberField:
    """Return the field for how far a probe may be off."""
    return NumberField(
        label="Probe is off by at most, °C",
        low=0,
        high=20,
        unit="°C",
        initial=number_initial(PROBE_ERROR_C),
        help_text="1 °C (1.8 °F) is what food thermometers must keep to. Check in ice water.",
    )


def egg_in_field() -> NumberField:
    """Return the field for when the egg went into the pot."""
    return NumberField(
        label="Egg went in after, min",
        low=0,
        high=14_400,
        unit="min",
        help_text="Minutes from the first sample. Heat before that cooks no egg. Empty: the egg "
        "was in from the start, or there is none.",
    )


class VersionForm(forms.Form):
    """What every log begins with: the version it is of, and its title."""

    version = forms.TypedChoiceField(label="Made from", coerce=int)

    def __init__(
        self,
        *positional: Any,  # noqa: ANN401
        versions: tuple[VersionSummary, ...] = (),
        **options: Any,  # noqa: ANN401
    ) -> None:
        super().__init__(*positional, **options)
        field = self.fields["version"]
        assert isinstance(field, forms.TypedChoiceField)  # noqa: S101 - declared above
        field.choices = [
            (one.number, f"version {one.number}" + (" (newest)" if one.is_head else ""))
            for one in versions
        ]


class UploadForm(VersionForm):
    """A logger's file."""

    file = forms.FileField(
        label="File of the logger",
        help_text="CSV or text, up to 64 MB. You see how it reads before anything is saved.",
        widget=forms.FileInput(attrs={"data-limit": FILE_LIMIT, "data-tell": "upload-too-large"}),
        error_messages={
            "required": "Choose the file that the logger exported.",
            "empty": "The file is empty. Export the log again, then choose that file.",
        },
    )

    def clean_file(self) -> Any:  # noqa: ANN401 - the framework's uploaded file
        """Refuse by size before reading."""
        file = self.cleaned_data["file"]
        try:
            probe_file_check(size=file.size or 0, name=file.name or "")
        except InputError as error:
            raise forms.ValidationError(f"{error.message} {error.hint}".strip()) from None
        return file


class StartForm(VersionForm):
    """Readings by hand: a title and up to four probes."""

    title = forms.CharField(
        label="Title", max_length=120, required=False, help_text="Empty is the date and the time."
    )
    probe_error_c = error_field()

    def __init__(self, *positional: Any, **options: Any) -> None:  # noqa: ANN401
        super().__init__(*positional, **options)
        for number in range(1, MOST_PROBES + 1):
            self.fields[f"name_{number}"] = forms.CharField(
                label=f"Probe {number}",
                max_length=80,
                required=False,
                initial="Core" if number == 1 else "",
                help_text="" if number == 1 else "Empty if there is none.",
            )
            self.fields[f"place_{number}"] = forms.ChoiceField(
                label=f"Where is probe {number}?", choices=PLACES
            )

    @property
    def probe_fields(self) -> list[tuple[forms.BoundField, forms.BoundField]]:
        """Name and place of each probe."""
        return [(self[f"name_{n}"], self[f"place_{n}"]) for n in range(1, MOST_PROBES + 1)]

    @property
    def probes(self) -> tuple[Probe, ...]:
        """The probes that were named."""
        values = self.cleaned_data
        return tuple(
            Probe(name=values[f"name_{n}"].strip(), place=ProbePlace(values[f"place_{n}"]))
            for n in range(1, MOST_PROBES + 1)
            if values[f"name_{n}"].strip()
        )

    def clean(self) -> dict[str, Any]:
        """Ask for at least one probe, and for names that differ."""
        values: dict[str, Any] = super().clean() or {}
        names = [values.get(f"name_{n}", "").strip() for n in range(1, MOST_PROBES + 1)]
        if not any(names):
            self.add_error("name_1", "Name at least one probe.")
        for place, name in enumerate(names):
            if name and name in names[:place]:
                self.add_error(f"name_{place + 1}", f"There is another probe “{name}”.")
        return values


class JudgeForm(forms.Form):
    """What was done and when the egg went in, told on the page of a log, in its address."""

    purpose = forms.ChoiceField(
        label="What was done",
        required=False,
        choices=(
            (LogPurpose.BATCH.value, "A batch was heated and cooled"),
            (LogPurpose.HELD_HOT.value, "Food was held hot"),
            (LogPurpose.HELD_COLD.value, "Food was kept cold"),
            (LogPurpose.REHEATED.value, "Food was heated again"),
        ),
    )
    egg_in = egg_in_field()


class ReadingForm(forms.Form):
    """What the probes show now, in big fields."""

    minutes = NumberField(
        label="Minutes after the start",
        low=0,
        high=14_400,
        unit="min",
        help_text="Empty is now.",
    )

    def __init__(self, *positional: Any, probes: tuple[Probe, ...] = (), **options: Any) -> None:  # noqa: ANN401
        super().__init__(*positional, **options)
        for place, probe in enumerate(probes):
            self.fields[f"probe_{place}"] = forms.CharField(
                label=f"{probe.name} shows",
                max_length=40,
                required=False,
                widget=forms.TextInput(
                    attrs={"inputmode": "decimal", "autocomplete": "off", "class": "number huge"}
                ),
            )

    @property
    def readings(self) -> list[forms.BoundField]:
        """The fields of the probes."""
        return [self[name] for name in self.fields if name.startswith("probe_")]

    def clean(self) -> dict[str, Any]:
        """Read each temperature; °C where no unit is written."""
        values: dict[str, Any] = super().clean() or {}
        self.celsius: dict[int, float] = {}
        for name in [one for one in values if one.startswith("probe_") and values[one].strip()]:
            try:
                self.celsius[int(name.removeprefix("probe_"))] = celsius_typed(values[name])
            except InputError as error:
                self.add_error(name, f"{error.message} {error.hint}".strip())
        if not self.celsius and not self.errors:
            self.add_error(self.readings[0].name, "Type what the probe shows, like 85 or 185 °F.")
        return values


def celsius_typed(text: str) -> float:
    """Return °C of what was typed: a bare number is in °C."""
    written = text.strip().replace("−", "-").replace("–", "-")
    if not _DIGITS.issuperset(written):
        return temperature_parse(written)
    sign = -1.0 if written.startswith("-") else 1.0
    return sign * number_parse(written.removeprefix("-"))
