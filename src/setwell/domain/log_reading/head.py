"""Where the samples begin, what the lines above them say, and what stands between the cells."""

from collections import Counter
from collections.abc import Sequence
from typing import NamedTuple

from setwell.domain.log_reading.columns import cell_is_data, time_unit_named, unit_named
from setwell.domain.log_reading.numbers import is_nothing
from setwell.domain.log_reading.settings import MOST_COLUMNS, Delimiter
from setwell.domain.log_reading.splitting import Rows, cells_split

# Lines looked at: of the start for the head, of the end for what a sample looks like.
HEAD_LINES, TAIL_LINES = 120, 60
# In this order where several split the samples equally well.
_ORDER = (
    Delimiter.TAB, Delimiter.SEMICOLON, Delimiter.PIPE, Delimiter.COMMA, Delimiter.SPACES,
)  # fmt: skip


class Head(NamedTuple):
    """The lines before the first sample, and a name for each column."""

    lines: int
    width: int
    names: tuple[str, ...]


def delimiter_guess(lines: Sequence[str]) -> Delimiter:
    """Return what splits the samples into the most cells that can be read."""
    sample = [line for line in lines[-TAIL_LINES:] if line.strip()]
    best, mark = -1.0, Delimiter.COMMA
    for one in _ORDER:
        rated = _rated(cells_split(sample, one))
        if rated > best + 1e-9:
            best, mark = rated, one
    return mark


def _rated(rows: Rows) -> float:
    """Return the share of cells that can be read, less where rows have no common width."""
    cells = [cell for row in rows for cell in row]
    if not cells:
        return 0.0
    width, many = Counter(map(len, rows)).most_common(1)[0]
    read = sum(cell_is_data(cell) for cell in cells) / len(cells)
    if 1 < width <= MOST_COLUMNS:
        # Cells that are all empty are no sign of a table.
        filled = sum(bool(cell.strip()) for cell in cells) / len(cells)
        return read * many / len(rows) * (0.5 + 0.5 * filled)
    # One column is a log only when nothing else fits.
    return 0.5 * read if width == 1 else 0.0


def head_read(start: Rows, end: Rows, lines: int | None = None) -> Head:
    """Return where the samples begin; `start` and `end` are rows of both ends of the file."""
    width = _width(end or start)
    first = _first_sample(start, width) if lines is None else lines
    return Head(first, width, _names(start[:first], width))


def _width(rows: Rows) -> int:
    # From the end: of two widths that are as frequent, the samples come last.
    widths = Counter(
        len(_trimmed(row)) for row in reversed(rows) if any(cell.strip() for cell in row)
    )
    return min(widths.most_common(1)[0][0], MOST_COLUMNS) if widths else 0


def _trimmed(row: list[str]) -> list[str]:
    # A delimiter at the end of every line adds an empty cell that no column needs.
    return row[:-1] if len(row) > 1 and not row[-1].strip() else row


def _first_sample(rows: Rows, width: int) -> int:
    for number, row in enumerate(rows):
        cells = row[:width]
        filled = [cell for cell in cells if not is_nothing(cell)]
        wide = len(_trimmed(row)) >= max(min(width, 2), width - 1)
        if wide and filled and sum(map(cell_is_data, filled)) > 0.6 * len(filled):
            return number
    return len(rows)


def _names(above: Rows, width: int) -> tuple[str, ...]:
    """Return a name for each column from one or two lines of head; preambles are left."""
    filled = [row for row in above if any(cell.strip() for cell in row)]
    if not filled:
        return ("",) * width
    last = _fitted(filled[-1], width)
    if len(filled) > 1 and _are_units(last):
        words = _fitted(filled[-2], width)
        return tuple(f"{word} {unit}".strip() for word, unit in zip(words, last, strict=True))
    wide_enough = len(_trimmed(filled[-1])) >= max(1, min(width, 2))
    return last if wide_enough else ("",) * width


def _fitted(row: list[str], width: int) -> tuple[str, ...]:
    cells = [cell.strip().strip('"').strip() for cell in row[:width]]
    return tuple(cells + [""] * (width - len(cells)))


def _are_units(cells: tuple[str, ...]) -> bool:
    said = [cell for cell in cells if cell]
    units = [c for c in said if len(c) <= 20 and (unit_named(c) or time_unit_named(c) or _form(c))]
    return bool(said) and len(units) >= len(said) - (len(said) > 2)


def _form(cell: str) -> bool:
    """True for a unit that is a pattern, such as hh:mm:ss or yyyy-mm-dd, or a percent sign."""
    bare = cell.lower().strip("()[]")
    return bare == "%" or (len(bare) > 3 and set(bare) <= set("ymdhs:.-/ t"))
