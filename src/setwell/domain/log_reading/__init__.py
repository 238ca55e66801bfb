"""Logs of temperature probes as text: guessed, corrected, read."""

from setwell.domain.log_reading.encoding import log_decode
from setwell.domain.log_reading.notes import ReadingNote
from setwell.domain.log_reading.reading import log_read
from setwell.domain.log_reading.settings import (
    DecimalMark,
    Delimiter,
    LogDoubt,
    LogReading,
    ProbeColumn,
    ProbePlace,
    TemperatureUnit,
    TimeForm,
)
from setwell.domain.log_reading.table import LogTable

__all__ = [
    "DecimalMark",
    "Delimiter",
    "LogDoubt",
    "LogReading",
    "LogTable",
    "ProbeColumn",
    "ProbePlace",
    "ReadingNote",
    "TemperatureUnit",
    "TimeForm",
    "log_decode",
    "log_read",
]
