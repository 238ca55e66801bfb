"""Read any logger's text file: guess what is not given, tell every doubt, lose nothing."""

from collections.abc import Sequence

import numpy as np

from setwell.domain.log_reading.columns import (
    Times,
    is_counted_down,
    probes_guess,
    times_guess,
    unit_told,
)
from setwell.domain.log_reading.encoding import Decoded, log_decode
from setwell.domain.log_reading.head import HEAD_LINES, TAIL_LINES, Head, delimiter_guess, head_read
from setwell.domain.log_reading.notes import ReadingNote
from setwell.domain.log_reading.numbers import decimal_guess
from setwell.domain.log_reading.settings import (
    DecimalMark,
    Delimiter,
    LogReading,
    TemperatureUnit,
    TimeForm,
)
from setwell.domain.log_reading.splitting import (
    Rows,
    cells_split,
    columns_split,
    lines_split,
    spaced_head,
)
from setwell.domain.log_reading.table import Columns, LogTable, celsius_read, seconds_read
from setwell.domain.log_reading.time_form import time_form_guess
from setwell.errors import DocumentError, InputError

# More samples than a week at one each second.
MOST_SAMPLES = 1_000_000
_SAMPLE = 120


def log_read(data: bytes | str, reading: LogReading | None = None) -> LogTable:
    """Return the samples of a logger's file; settings that `reading` leaves open are guessed.

    Takes comma, semicolon, tab, pipe or space between cells, decimal comma or point, lines of
    head, dates in any order, clocks, seconds, minutes, spreadsheet days or no time at all, and
    °C, °F or K in the head or in each cell.
    """
    given = reading or LogReading()
    decoded = log_decode(data) if isinstance(data, bytes) else Decoded(data, "text")
    lines = lines_split(decoded.text.removeprefix("\ufeff"))
    if not lines:
        raise DocumentError(
            "The file is empty.", hint="Export the log from the logger again, then send that file."
        )
    delimiter = given.delimiter or delimiter_guess(lines)
    columns, ragged, head = _table(lines, delimiter, given.header_lines)
    count = len(columns[0]) if columns else 0
    filled, notes = _filled(given, delimiter, head, columns)
    default = _unit_of_file(lines[: head.lines], filled)
    celsius, probes, said = celsius_read(columns, filled, default)
    seconds, started = seconds_read(columns, filled, count)
    if filled.time_form is TimeForm.SAMPLES and is_counted_down(head.names, columns):
        seconds = seconds[::-1].copy()
    needs_interval = filled.time_form is TimeForm.SAMPLES and filled.interval_s is None
    return LogTable(
        seconds,
        celsius,
        filled.model_copy(update={"probes": probes}),
        started,
        decoded.encoding,
        (*_file_notes(decoded, ragged), *notes, *said, *_time_notes(seconds, asks=needs_interval)),
        head.names,
        needs_interval,
    )


def _table(
    lines: Sequence[str], delimiter: Delimiter, header_lines: int | None
) -> tuple[Columns, int, Head]:
    """Return the cells by column, how many rows had another width, and the head above them."""
    is_plain = delimiter is not Delimiter.SPACES and not any('"' in line for line in lines)
    if not is_plain or len(lines) <= HEAD_LINES + TAIL_LINES:
        rows = cells_split(lines, delimiter)
        head = head_read(_start(lines, rows, delimiter), rows[-TAIL_LINES:], header_lines)
        return (*_columns(rows[head.lines :], head), head)
    # Without quotation marks a line is a row: only both ends are looked at to find the head.
    start, end = (
        cells_split(part, delimiter) for part in (lines[:HEAD_LINES], lines[-TAIL_LINES:])
    )
    head = head_read(start, end, header_lines)
    body = lines[head.lines :]
    columns = columns_split(body, delimiter, head.width)
    if columns is not None:
        _count_checked(len(body))
        return columns, 0, head
    return (*_columns(cells_split(body, delimiter), head), head)


def _start(lines: Sequence[str], rows: Rows, delimiter: Delimiter) -> Rows:
    """Return the first rows; names with single spaces in them are kept whole."""
    if delimiter is not Delimiter.SPACES:
        return rows[:HEAD_LINES]
    widths = [len(row) for row in rows[-TAIL_LINES:] if row]
    width = max(set(widths), key=widths.count) if widths else 0
    pairs = zip(lines[:HEAD_LINES], rows, strict=False)
    return [spaced_head(line, row, width) for line, row in pairs]


def _columns(rows: Rows, head: Head) -> tuple[Columns, int]:
    """Return the cells by column, and how many rows were of another width."""
    kept = [row for row in rows if any(row) and any(map(str.strip, row))]
    if not kept:
        raise DocumentError(
            "The file has a head but not a single sample.",
            hint="Check that the logger was started, or correct the number of header lines.",
        )
    _count_checked(len(kept))
    width = head.width
    ragged = 0
    fitted = []
    for row in kept:
        if len(row) < width:
            ragged += 1
            fitted.append(row + [""] * (width - len(row)))
        else:
            ragged += any(row[width:])
            fitted.append(row)
    return list(zip(*fitted, strict=False))[:width], ragged


def _count_checked(count: int) -> None:
    if count > MOST_SAMPLES:
        raise DocumentError(
            f"The file has {count:,} samples; at most {MOST_SAMPLES:,} can be read.",
            hint="Export fewer hours, or one sample each few seconds.",
        )


def _filled(
    given: LogReading, delimiter: Delimiter, head: Head, columns: Columns
) -> tuple[LogReading, list[ReadingNote]]:
    """Return every setting, and what was in doubt."""
    sample = [_spread(cells) for cells in columns]
    decimal = given.decimal or (
        DecimalMark.POINT
        if delimiter is Delimiter.COMMA and not any("," in c for cells in sample for c in cells)
        else decimal_guess(cell for cells in sample for cell in cells)
    )
    times = _times(given, head, sample)
    notes = []
    form = given.time_form
    if not times.time:
        form = TimeForm.SAMPLES
    elif form in {None, TimeForm.SAMPLES}:
        cells = columns[(times.date or times.time) - 1]
        guess = time_form_guess(cells, head.names[times.time - 1], decimal)
        form = guess.form
        notes += [guess.note] if guess.note else []
    probes = given.probes
    if probes is None:
        probes = probes_guess(head.names, sample, times)
        notes += _left_out(head, times, [probe.column for probe in probes])
    if not probes:
        raise InputError(
            "No column of temperatures was found.",
            field="probes",
            hint="Name the columns of the probes, or correct what stands between the cells.",
        )
    for probe in probes:
        _column_checked(probe.column, head.width, "probes")
    return (
        LogReading(
            delimiter=delimiter,
            decimal=decimal,
            header_lines=head.lines,
            time_column=times.time,
            date_column=times.date,
            time_form=form,
            interval_s=given.interval_s,
            probes=probes,
        ),
        notes,
    )


def _times(given: LogReading, head: Head, sample: Columns) -> Times:
    """Return the columns of the time: those given, or those found."""
    if given.time_form is TimeForm.SAMPLES and given.time_column is None:
        return Times(0)
    if given.time_column is None:
        return times_guess(head.names, sample)
    _column_checked(given.time_column, head.width, "time_column")
    _column_checked(given.date_column or 0, head.width, "date_column")
    return Times(given.time_column, given.date_column or 0)


def _column_checked(column: int, width: int, field: str) -> None:
    if column > width:
        raise InputError(
            f"There is no column {column}: the file has {width}.",
            field=field,
            hint=f"Give a number from 1 to {width}.",
        )


def _spread(cells: Sequence[str]) -> Sequence[str]:
    """Return some cells from all over a column."""
    return cells[:: max(1, len(cells) // _SAMPLE)]


def _unit_of_file(above: Sequence[str], reading: LogReading) -> TemperatureUnit | None:
    """Return the one unit that the head names; two of them decide nothing."""
    named = {probe.unit for probe in reading.probes or () if probe.unit is not None}
    if not named:
        named = {unit for line in above if (unit := unit_told(line)) is not None}
    return named.pop() if len(named) == 1 else None


def _left_out(head: Head, times: Times, probes: Sequence[int]) -> list[ReadingNote]:
    rest = [
        name or f"column {number}"
        for number, name in enumerate(head.names, start=1)
        if number not in {*times, *probes}
    ]
    if not rest:
        return []
    text = f"Not read as a probe: {', '.join(rest[:8])}."
    return [ReadingNote("left_out", text, "Add a column where that is wrong.", "probes")]


def _file_notes(decoded: Decoded, ragged: int) -> list[ReadingNote]:
    notes = [ReadingNote("encoding", decoded.note)] if decoded.note else []
    if ragged:
        text = f"{ragged:,} lines have more or fewer cells than the others."
        notes.append(ReadingNote("ragged", text, "Cells that are not there are read as empty."))
    return notes


def _time_notes(
    seconds: np.ndarray[tuple[int], np.dtype[np.float64]], *, asks: bool
) -> list[ReadingNote]:
    if asks:
        text = "The file has no time: the samples are only counted."
        action = "Say how many seconds lie between two samples."
        return [ReadingNote("interval", text, action, "interval_s", is_doubt=True)]
    lost = int(np.isnan(seconds).sum())
    if not lost:
        return []
    text = f"The time of {lost:,} of {len(seconds):,} samples cannot be read."
    return [ReadingNote("no_moment", text, "They are kept but not judged.", "time_form")]
