"""Lines into cells: quotation marks hold a cell together, several spaces count as one mark."""

import re
from collections.abc import Sequence
from functools import cache

from setwell.domain.log_reading.settings import Delimiter
from setwell.errors import DocumentError

Rows = list[list[str]]
_QUOTE = '"'
_WIDE_GAP = re.compile(r"\s{2,}|\t")
# A quoted cell that is never closed would otherwise swallow the whole file.
_LONGEST_CELL_LINES = 50
# What belongs to the cell before it, in files with spaces between the cells.
_BELONGS = re.compile(
    r"(?<=\d)[ \t]+(?=(?:[AaPp]\.?[Mm]\.?|°\s?[CFcf]|º\s?[CFcf]|[CF])(?:[ \t]|$))"
)


def lines_split(text: str) -> list[str]:
    """Return the lines of a text, whatever ends them."""
    if "\r" in text:
        text = text.replace("\r\n", "\n").replace("\r", "\n")
    lines = text.split("\n")
    while lines and not lines[-1].strip():
        lines.pop()
    return lines


def cells_split(lines: Sequence[str], delimiter: Delimiter) -> Rows:
    """Return the cells of each line; a cell may hold the delimiter or a line end in quotes."""
    if delimiter is Delimiter.SPACES:
        return [_BELONGS.sub("", line).split() for line in lines]
    mark = delimiter.mark
    if not any(_QUOTE in line for line in lines):
        return [line.split(mark) for line in lines]
    return _quoted(lines, mark)


def columns_split(lines: Sequence[str], delimiter: Delimiter, width: int) -> list[list[str]] | None:
    """Return the cells by column where every line has as many; None where one differs.

    Only for lines without quotation marks. One long list, cut by steps, is far quicker than a
    list for each line.
    """
    mark = delimiter.mark
    marks = lines[0].count(mark) if lines else -1
    if not width - 1 <= marks <= width or any(line.count(mark) != marks for line in lines):
        return None
    if any(not line.strip(mark + " ") for line in lines):
        # Empty lines are no samples.
        return None
    cells = mark.join(lines).split(mark)
    columns = [cells[place :: marks + 1] for place in range(marks + 1)]
    if marks == width and any(columns.pop()):
        return None
    return columns


def spaced_head(line: str, row: list[str], width: int) -> list[str]:
    """Return a line of a file with spaces, names kept whole where two spaces part them."""
    wide = _WIDE_GAP.split(line.strip())
    if len(row) == width or len(wide) not in {width, width - 1}:
        return row
    # A day and a time are two cells under one name.
    return wide if len(wide) == width else ["", *wide]


def _quoted(lines: Sequence[str], mark: str) -> Rows:
    rows: Rows = []
    waiting: list[str] = []
    for line in lines:
        if not waiting and _QUOTE not in line:
            rows.append(line.split(mark))
            continue
        waiting.append(line)
        whole = line if len(waiting) == 1 else "\n".join(waiting)
        # An inch or a stray mark inside an open cell pairs with nothing: read it as it stands.
        if whole.count(_QUOTE) % 2 == 0:
            rows.append(_cells(whole, mark))
            waiting = []
        elif len(waiting) > _LONGEST_CELL_LINES:
            raise DocumentError(
                f"A quotation mark in line {len(rows) + 1:,} is opened and not closed.",
                hint="Remove it, or close it.",
            )
    rows.extend(one.replace(_QUOTE, "").split(mark) for one in waiting)
    return rows


@cache
def _cell_pattern(mark: str) -> re.Pattern[str]:
    sign = re.escape(mark)
    return re.compile(rf'[ ]*"((?:[^"]|"")*)"[^{sign}]*{sign}|([^{sign}]*){sign}', re.DOTALL)


def _cells(line: str, mark: str) -> list[str]:
    # With a mark at the end every cell ends alike.
    found = _cell_pattern(mark).findall(line + mark)
    return [plain or quoted.replace(_QUOTE * 2, _QUOTE) for quoted, plain in found]
