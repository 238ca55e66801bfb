"""From the bytes of a spreadsheet's CSV file to rows of cells, and back."""

import csv
import io
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from setwell.errors import DocumentError

SIZE_LIMIT = 5_000_000
ROWS_LIMIT = 20_000
_UTF8_MARK = b"\xef\xbb\xbf"
_UTF16_MARKS = (b"\xff\xfe", b"\xfe\xff")
# A spreadsheet runs a cell that starts like this as a formula.
_RUNNABLE = re.compile(r"'*[=+\-@\t\r]")
_NUMBER = re.compile(r"[-+]?\d+([.,]\d+)?([eE][-+]?\d+)?")
_GUARD = "'"


@dataclass(frozen=True, slots=True)
class Sheet:
    """A CSV file as read: rows with the number that a spreadsheet shows for them."""

    header: tuple[str, ...]
    rows: tuple[tuple[int, tuple[str, ...]], ...]
    has_decimal_comma: bool
    notes: tuple[str, ...]


def sheet_read(data: bytes) -> Sheet:
    """Return the rows of a CSV file, or say why it is none."""
    if len(data) > SIZE_LIMIT:
        raise DocumentError(
            f"The file has {len(data) / 1e6:.1f} MB; at most {SIZE_LIMIT / 1e6:.0f} MB fit.",
            hint="Split it into several files.",
        )
    text, notes = _decoded(data)
    first = text.lstrip().split("\n", 1)[0]
    delimiter = ";" if first.count(";") > first.count(",") else ","
    cells = _cells(text, delimiter)
    if not cells:
        raise DocumentError(
            "The file is empty.",
            hint="Export the pantry once to get a file with the right columns.",
        )
    (_, header), *rows = cells
    if len(rows) > ROWS_LIMIT:
        raise DocumentError(
            f"The file has {len(rows):,} rows; at most {ROWS_LIMIT:,} can be read.",
            hint="Split it into several files.",
        )
    names = tuple(name.strip().lower() for name in header)
    return Sheet(names, tuple(rows), delimiter == ";", notes)


def sheet_write(rows: Iterable[Sequence[str]]) -> str:
    """Return rows of cells as CSV text; cells a spreadsheet would run are made harmless."""
    file = io.StringIO(newline="")
    csv.writer(file, lineterminator="\n").writerows(
        [_guarded(cell) for cell in row] for row in rows
    )
    return file.getvalue()


def _guarded(cell: str) -> str:
    is_number = _NUMBER.fullmatch(cell) is not None
    return _GUARD + cell if _RUNNABLE.match(cell) and not is_number else cell


def _unguarded(cell: str) -> str:
    return cell[1:] if cell.startswith(_GUARD) and _RUNNABLE.match(cell) else cell


def _decoded(data: bytes) -> tuple[str, tuple[str, ...]]:
    notes: tuple[str, ...] = ()
    try:
        if data.startswith(_UTF16_MARKS):
            text = data.decode("utf-16")
        else:
            text = data.removeprefix(_UTF8_MARK).decode("utf-8")
    except UnicodeDecodeError:
        # cp1252 leaves five bytes undefined; they show as a question mark in a diamond.
        text = data.decode("cp1252", errors="replace")
        notes = (
            "The file is not Unicode; it was read as Western European (Windows-1252). "
            "Check letters with accents.",
        )
    if "\x00" in text:
        raise DocumentError(
            "This is not a CSV file: it has characters that no text has.",
            hint="In the spreadsheet, save the sheet as CSV (UTF-8).",
        )
    return text, notes


def _cells(text: str, delimiter: str) -> list[tuple[int, tuple[str, ...]]]:
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    try:
        numbered = [(n, tuple(map(_unguarded, row))) for n, row in enumerate(reader, start=1)]
    except csv.Error as error:
        raise DocumentError(
            f"The file stops making sense as CSV near line {reader.line_num}: {error}.",
            hint="Look for a quotation mark that is opened and not closed.",
        ) from None
    return [(n, row) for n, row in numbered if any(cell.strip() for cell in row)]
