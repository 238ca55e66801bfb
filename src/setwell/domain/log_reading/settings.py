"""How a logger's file is to be read: every guess is a field that a person can correct."""

from enum import StrEnum
from typing import Annotated

from pydantic import Field

from setwell.domain.document import CleanText, Document

# A logger with more columns than this is a data dump, not a kitchen's probe.
MOST_COLUMNS = 64
ColumnNumber = Annotated[int, Field(ge=1, le=MOST_COLUMNS)]


class Delimiter(StrEnum):
    """What stands between two cells."""

    COMMA = "comma"
    SEMICOLON = "semicolon"
    TAB = "tab"
    PIPE = "pipe"
    SPACES = "spaces"

    @property
    def mark(self) -> str:
        """The character itself; several spaces count as one mark."""
        return _MARKS[self]


_MARKS = {
    Delimiter.COMMA: ",",
    Delimiter.SEMICOLON: ";",
    Delimiter.TAB: "\t",
    Delimiter.PIPE: "|",
    Delimiter.SPACES: " ",
}


class DecimalMark(StrEnum):
    """What stands before the decimals."""

    POINT = "point"
    COMMA = "comma"


class TimeForm(StrEnum):
    """How the time column writes a moment."""

    ISO = "year-month-day"
    DAY_FIRST = "day/month/year"
    MONTH_FIRST = "month/day/year"
    CLOCK = "hours:minutes:seconds"
    MINUTES_CLOCK = "minutes:seconds"
    SECONDS = "seconds"
    MILLISECONDS = "milliseconds"
    MINUTES = "minutes"
    HOURS = "hours"
    SERIAL_DAYS = "days, as spreadsheets count"
    UNIX_SECONDS = "seconds since 1970"
    UNIX_MILLISECONDS = "milliseconds since 1970"
    SAMPLES = "no time: sample numbers"

    @property
    def has_date(self) -> bool:
        """True when the day is told as well."""
        return self in _DATED


_DATED = {
    TimeForm.ISO,
    TimeForm.DAY_FIRST,
    TimeForm.MONTH_FIRST,
    TimeForm.SERIAL_DAYS,
    TimeForm.UNIX_SECONDS,
    TimeForm.UNIX_MILLISECONDS,
}


class TemperatureUnit(StrEnum):
    """The unit of a column; cells that name their own unit are read by that."""

    CELSIUS = "°C"
    FAHRENHEIT = "°F"
    KELVIN = "K"


class LogDoubt(StrEnum):
    """A guess that verdicts hang on and that nobody has confirmed; named as its note is."""

    UNIT = "unit"
    TIME_UNIT = "time_unit"
    CLOCK_PARTS = "clock_parts"
    DATE_ORDER = "date_order"


class ProbePlace(StrEnum):
    """Where a probe sits."""

    CORE = "core"
    SURFACE = "surface"
    BOTTOM = "bottom"
    TOP = "top"
    FOOD = "food"
    AIR = "air"
    FRIDGE = "fridge"
    BATH = "bath"

    @property
    def is_food(self) -> bool:
        """True for places inside the batch: only these can prove it."""
        return self not in {ProbePlace.AIR, ProbePlace.FRIDGE, ProbePlace.BATH}


class ProbeColumn(Document):
    """One column of temperatures; columns are counted from 1."""

    column: ColumnNumber
    name: Annotated[CleanText, Field(min_length=1, max_length=80)]
    unit: TemperatureUnit | None = None
    place: ProbePlace = ProbePlace.FOOD


class LogReading(Document):
    """How to read one file; None leaves a point to be guessed.

    `header_lines` are the lines before the first sample. `date_column` is only for files that
    write the day apart from the time. A `time_column` of 0 says that there is none.
    """

    delimiter: Delimiter | None = None
    decimal: DecimalMark | None = None
    header_lines: Annotated[int, Field(ge=0, le=1_000)] | None = None
    time_column: Annotated[int, Field(ge=0, le=MOST_COLUMNS)] | None = None
    date_column: Annotated[int, Field(ge=0, le=MOST_COLUMNS)] | None = None
    time_form: TimeForm | None = None
    # Seconds between two samples, for files without a time.
    interval_s: Annotated[float, Field(gt=0, le=86_400, allow_inf_nan=False)] | None = None
    probes: tuple[ProbeColumn, ...] | None = None
