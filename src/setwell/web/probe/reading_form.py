"""How a file is read, as a form: every guess stands in a field and can be corrected."""

from collections.abc import Mapping
from typing import Any

from django import forms
from pydantic import ValidationError

from setwell.domain.document import document_error
from setwell.domain.log_reading import (
    DecimalMark,
    Delimiter,
    LogDoubt,
    LogReading,
    LogTable,
    ProbePlace,
    TemperatureUnit,
    TimeForm,
)
from setwell.web.inputs import NumberField, number_initial
from setwell.web.probe.forms import PLACES, egg_in_field, error_field

_DELIMITERS = {
    Delimiter.COMMA: "comma ,",
    Delimiter.SEMICOLON: "semicolon ;",
    Delimiter.TAB: "tab",
    Delimiter.PIPE: "bar |",
    Delimiter.SPACES: "spaces",
}
_SAY_UNIT = "say whether it is °C or °F: the file does not tell, and every verdict rests on it."
_SAY_TIME = "Say how the time is written: the file does not tell, and every verdict rests on it."
_DECIMALS = {DecimalMark.POINT: "point, 85.2", DecimalMark.COMMA: "comma, 85,2"}


class SettingsForm(forms.Form):
    """Settings of the file, then a title; the columns are fields of their own."""

    # What the fields below were shown for: when that changes, they are guessed anew.
    shown_for = forms.CharField(widget=forms.HiddenInput, required=False)
    delimiter = forms.ChoiceField(
        label="Between the cells",
        required=False,
        choices=[(k.value, v) for k, v in _DELIMITERS.items()],
    )
    decimal = forms.ChoiceField(
        label="Decimal mark", required=False, choices=[(k.value, v) for k, v in _DECIMALS.items()]
    )
    header_lines = NumberField(
        label="Lines before the first sample", low=0, high=1_000, is_whole=True
    )
    time_column = forms.TypedChoiceField(label="Time is in", coerce=int, required=False)
    date_column = forms.TypedChoiceField(label="Date is in", coerce=int, required=False)
    time_form = forms.ChoiceField(
        label="Time is written as", required=False,
        choices=[("", "not told: choose"), *((one.value, one.value) for one in TimeForm)],
    )  # fmt: skip
    interval_s = NumberField(
        label="Seconds between two samples", low=0, high=86_400, unit="s", above=True,
        help_text="Only for files without a time.",
    )  # fmt: skip
    title = forms.CharField(label="Title of the log", max_length=120, required=False)
    probe_error_c = error_field()
    egg_in = egg_in_field()
    note = forms.CharField(
        label="Note", required=False, max_length=2000, widget=forms.Textarea(attrs={"rows": 2})
    )

    settings = (
        "delimiter", "decimal", "header_lines", "time_column", "date_column", "time_form",
        "interval_s",
    )  # fmt: skip
    about = ("title", "probe_error_c", "egg_in", "note")

    def __init__(self, *positional: Any, names: tuple[str, ...] = (), **options: Any) -> None:  # noqa: ANN401
        super().__init__(*positional, **options)
        self.names = names
        columns = [
            (n, f"column {n}: {name}" if name else f"column {n}") for n, name in _numbered(names)
        ]
        for field, none in (("time_column", "no column"), ("date_column", "the same column")):
            chosen = self.fields[field]
            assert isinstance(chosen, forms.TypedChoiceField)  # noqa: S101 - declared above
            chosen.choices = [(0, none), *columns]
        for number, name in _numbered(names):
            self.fields[f"use_{number}"] = forms.BooleanField(
                label=f"Column {number}" + (f": {name}" if name else ""), required=False
            )
            self.fields[f"name_{number}"] = forms.CharField(
                label="Name", max_length=80, required=False
            )
            self.fields[f"unit_{number}"] = forms.ChoiceField(
                label="Unit",
                required=False,
                choices=[("", "not told: choose"), *((u.value, u.value) for u in TemperatureUnit)],
            )
            self.fields[f"place_{number}"] = forms.ChoiceField(
                label="Where", required=False, choices=PLACES
            )

    @property
    def setting_fields(self) -> list[forms.BoundField]:
        """How the file is cut up."""
        return [self[name] for name in self.settings]

    @property
    def about_fields(self) -> list[forms.BoundField]:
        """What the log is called, and how right its probes are."""
        return [self[name] for name in self.about]

    @property
    def columns(self) -> list[tuple[forms.BoundField, ...]]:
        """The fields of each column."""
        kinds = ("use", "name", "unit", "place")
        return [tuple(self[f"{kind}_{n}"] for kind in kinds) for n, _ in _numbered(self.names)]

    @property
    def reading(self) -> LogReading | None:
        """The settings, or None where one of them cannot be; then it stands at its field."""
        values = self.cleaned_data
        form = values.get("time_form")
        if not values.get("time_column") and form not in {
            "",
            TimeForm.SAMPLES.value,
            _shown_for(values)[2],
        }:
            self.refuse("time_column", "Choose the column that the time is in.")
            return None
        try:
            return LogReading.model_validate(_settings(values, len(self.names)))
        except ValidationError as error:
            problem = document_error(error)
            self.refuse(problem.field, problem.message)
            return None

    def confirm(self, table: LogTable) -> bool:
        """Ask at their fields for guesses that verdicts hang on; True where there are none."""
        names = {probe.column: probe.name for probe in table.probes}
        for column in table.guessed_units:
            self.refuse(f"unit_{column}", f"“{names[column]}”: {_SAY_UNIT}")
        if set(table.doubts) - {LogDoubt.UNIT}:
            self.refuse("time_form", _SAY_TIME)
        return not table.doubts

    def refuse(self, field: str, message: str) -> None:
        """Show a message at its field, or above the form."""
        self.add_error(field if field in self.fields else None, message)


def _numbered(names: tuple[str, ...]) -> list[tuple[int, str]]:
    return list(enumerate(names, start=1))


def cut_key(values: Mapping[str, Any]) -> str:
    """Return what decides which cells there are."""
    return f"{values.get('delimiter') or ''}/{values.get('header_lines')}"


def time_key(values: Mapping[str, Any]) -> str:
    """Return what decides which cells the time is in."""
    return f"{values.get('time_column')}/{values.get('date_column')}"


def _shown_for(values: Mapping[str, Any]) -> list[str]:
    """Return what the cells, the columns of the time and its form were when the form was drawn."""
    return [*str(values.get("shown_for") or "").split("|"), "", "", ""][:3]


def _settings(values: Mapping[str, Any], width: int) -> dict[str, Any]:
    """Return the settings to read with; what no longer fits is left to be guessed."""
    was_cut, was_time, was_form = _shown_for(values)
    kept = {name: values.get(name) for name in SettingsForm.settings}
    plain = {name: value if value not in {"", None} else None for name, value in kept.items()}
    if cut_key(values) != was_cut:
        # Other cells: only what was asked for holds.
        lines = was_cut.partition("/")[2]
        changed = {"delimiter": plain["delimiter"]}
        if str(values.get("header_lines")) != lines:
            changed["header_lines"] = plain["header_lines"]
        return {**changed, "interval_s": plain["interval_s"]}
    is_same_form = (plain["time_form"] or "") == was_form
    if not plain["time_column"] and is_same_form:
        plain["time_form"] = TimeForm.SAMPLES.value
    elif time_key(values) != was_time and is_same_form:
        plain["time_form"] = None
    return {**plain, "probes": _probes(values, width)}


def _probes(values: Mapping[str, Any], width: int) -> list[dict[str, Any]]:
    return [
        {
            "column": number,
            "name": (values.get(f"name_{number}") or "").strip() or f"Probe {number}",
            "unit": values.get(f"unit_{number}") or None,
            "place": values.get(f"place_{number}") or ProbePlace.FOOD.value,
        }
        for number in range(1, width + 1)
        if values.get(f"use_{number}")
    ]


def initial_of(table: LogTable, *, title: str) -> dict[str, Any]:
    """Return what the form shows for a file as it was read."""
    reading = table.reading
    fields: dict[str, Any] = {
        "delimiter": reading.delimiter,
        "decimal": reading.decimal,
        "header_lines": number_initial(reading.header_lines),
        "time_column": reading.time_column,
        "date_column": reading.date_column,
        "time_form": reading.time_form,
        "interval_s": number_initial(reading.interval_s),
        "title": title,
    }
    # What verdicts hang on is chosen by a person where the file does not tell.
    if set(table.doubts) - {LogDoubt.UNIT}:
        fields["time_form"] = ""
    fields["shown_for"] = f"{cut_key(fields)}|{time_key(fields)}|{fields['time_form']}"
    for number, name in _numbered(table.names):
        fields |= {f"name_{number}": name, f"place_{number}": ProbePlace.FOOD}
    for probe in table.probes:
        fields |= {
            f"use_{probe.column}": True,
            f"name_{probe.column}": probe.name,
            f"unit_{probe.column}": "" if probe.column in table.guessed_units else probe.unit,
            f"place_{probe.column}": probe.place,
        }
    return {key: getattr(value, "value", value) for key, value in fields.items()}
