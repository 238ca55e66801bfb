"""The samples of a log as numbers: seconds from the first, and °C of each probe."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from setwell.domain.log_reading.clock import moment_text, moments_read
from setwell.domain.log_reading.notes import ReadingNote
from setwell.domain.log_reading.numbers import (
    NumberColumn,
    celsius_of,
    numbers_read,
    unit_of_letter,
)
from setwell.domain.log_reading.settings import (
    DecimalMark,
    LogDoubt,
    LogReading,
    ProbeColumn,
    TemperatureUnit,
    TimeForm,
)

Array = NDArray[np.float64]
Columns = Sequence[Sequence[str]]

# Water boils at 100 °C: what reads higher on average is in °F (our judgment), and what never
# gets below the freezer in K, up to a pot on the boil in K.
_ABOVE_IS_FAHRENHEIT = 105.0
_KELVIN = (240.0, 400.0)


@dataclass(frozen=True, slots=True, eq=False)
class LogTable:
    """A file as read. `seconds` (n,) and `celsius` (p, n) are NaN where nothing can be read.

    `reading` holds every setting that was used, guessed or given. `names` are the
    heads of all columns of the file, for who wants to correct a guess.
    """

    seconds: Array
    celsius: Array
    reading: LogReading
    started: str
    encoding: str
    notes: tuple[ReadingNote, ...]
    names: tuple[str, ...]
    needs_interval: bool = False

    @property
    def doubts(self) -> tuple[LogDoubt, ...]:
        """The guesses that verdicts hang on: a person has to confirm them."""
        codes = {note.code for note in self.notes if note.is_doubt}
        return tuple(doubt for doubt in LogDoubt if doubt.value in codes)

    @property
    def guessed_units(self) -> tuple[int, ...]:
        """The columns of probes whose unit neither the file nor a person has told."""
        return tuple(column for note in self.notes for column in note.columns)

    @property
    def probes(self) -> tuple[ProbeColumn, ...]:
        """The columns of temperatures."""
        return self.reading.probes or ()

    @property
    def count(self) -> int:
        """How many samples there are."""
        return len(self.seconds)


def seconds_read(columns: Columns, reading: LogReading, count: int) -> tuple[Array, str]:
    """Return seconds from the first moment that can be read, and that moment as text."""
    form = reading.time_form or TimeForm.SAMPLES
    if form is TimeForm.SAMPLES or not reading.time_column:
        return np.asarray(np.arange(count) * (reading.interval_s or 1.0)), ""
    cells = columns[reading.time_column - 1]
    if reading.date_column:
        days = columns[reading.date_column - 1]
        cells = [f"{day} {time}" for day, time in zip(days, cells, strict=True)]
    moments = moments_read(cells, form, reading.decimal or DecimalMark.POINT)
    known = moments[np.isfinite(moments)]
    start = float(known[0]) if len(known) else 0.0
    # Thousandths are more than any logger keeps, and leave no dust of large numbers.
    return np.asarray(np.round(moments - start, 3)), moment_text(start, form)


def celsius_read(
    columns: Columns, reading: LogReading, default: TemperatureUnit | None
) -> tuple[Array, tuple[ProbeColumn, ...], tuple[ReadingNote, ...]]:
    """Return °C of each probe, the probes with the unit each was read in, and remarks."""
    decimal = reading.decimal or DecimalMark.POINT
    read = [
        (probe, numbers_read(columns[probe.column - 1], decimal)) for probe in reading.probes or ()
    ]
    guess = _unit_guess([column for probe, column in read if probe.unit is None])
    rows, probes, notes = [], [], []
    for probe, column in read:
        unit, said = _unit(column, probe, default, guess)
        rows.append(_celsius(column, unit))
        probes.append(probe.model_copy(update={"unit": unit}))
        notes += [*said, *_text_notes(column, probe)]
    table = np.stack(rows) if rows else np.zeros((0, len(columns[0]) if columns else 0))
    return table, tuple(probes), _joined(notes)


def _celsius(column: NumberColumn, unit: TemperatureUnit) -> Array:
    values = celsius_of(column.values, unit)
    if column.units is None:
        return np.asarray(values)
    for letter in ("c", "f", "k"):
        own = unit_of_letter(letter)
        mask = column.units == letter
        if own is not None and mask.any():
            values = np.where(mask, celsius_of(column.values, own), values)
    return np.asarray(values)


def _unit(
    column: NumberColumn,
    probe: ProbeColumn,
    default: TemperatureUnit | None,
    guess: TemperatureUnit,
) -> tuple[TemperatureUnit, list[ReadingNote]]:
    """Return the unit of a column: as named, as most cells say, or guessed from its values."""
    told = _units_of(column)
    notes = []
    if len(told) > 1 or (told and probe.unit is not None and probe.unit not in told):
        parts = [f"{many:,} in {unit.value}" for unit, many in told.items()]
        if probe.unit is not None and probe.unit not in told:
            parts.append(f"the column in {probe.unit.value}")
        text = f"“{probe.name}” mixes units: {', '.join(parts)}. Each cell was read by its own."
        notes.append(ReadingNote("mixed_units", text, "Look at the line of that probe.", "probes"))
    unit = probe.unit or next(iter(told), None) or default
    if unit is not None:
        return unit, notes
    reason = "" if guess is TemperatureUnit.CELSIUS else " because of the high values"
    text = f"“{probe.name}” does not say °C or °F; it was read as {guess.value}{reason}."
    action = "Change the unit if that is wrong."
    columns = (probe.column,)
    notes.append(ReadingNote("unit", text, action, "probes", is_doubt=True, columns=columns))
    return guess, notes


def _unit_guess(untold: list[NumberColumn]) -> TemperatureUnit:
    """Return the unit of all columns that do not say: a logger writes all of them in one."""
    for column in untold:
        known = column.values[np.isfinite(column.values)]
        if not len(known):
            continue
        least, most = (float(one) for one in np.percentile(known, (10, 90)))
        if _KELVIN[0] < least and most < _KELVIN[1]:
            return TemperatureUnit.KELVIN
        if most > _ABOVE_IS_FAHRENHEIT:
            return TemperatureUnit.FAHRENHEIT
    return TemperatureUnit.CELSIUS


def _units_of(column: NumberColumn) -> dict[TemperatureUnit, int]:
    """Return how many cells name each unit, the most frequent first."""
    if column.units is None:
        return {}
    letters, counts = np.unique(column.units[column.units != ""], return_counts=True)
    found = [(unit_of_letter(str(one)), int(n)) for one, n in zip(letters, counts, strict=True)]
    return dict(sorted(((u, n) for u, n in found if u), key=lambda pair: -pair[1]))


def _text_notes(column: NumberColumn, probe: ProbeColumn) -> list[ReadingNote]:
    lost = column.unreadable + column.missing
    if not lost:
        return []
    examples = ", ".join(f"“{one}”" for one in column.examples if one)
    like = f" ({examples})" if examples else ""
    text = f"“{probe.name}” has no number in {lost:,} of {len(column.values):,} samples{like}."
    return [ReadingNote("no_number", text, "They stay without a reading.", "probes")]


def _joined(notes: list[ReadingNote]) -> tuple[ReadingNote, ...]:
    """Return the remarks, the same doubt of several probes as one."""
    units = [note for note in notes if note.code == "unit"]
    if len(units) < 2:
        return tuple(notes)
    names = [note.text.split("”")[0].lstrip("“") for note in units]
    guess = units[0].text.rsplit("read as ", 1)[1].rstrip(".")
    text = f"{', '.join(names)} do not say °C or °F; they were read as {guess}."
    columns = tuple(column for note in units for column in note.columns)
    return (
        replace(units[0], text=text, columns=columns),
        *(note for note in notes if note.code != "unit"),
    )
