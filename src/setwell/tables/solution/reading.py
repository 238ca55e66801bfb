"""Read the sheets of this folder; broken lines are named with file and line number."""

from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path

from setwell.errors import TableError
from setwell.tables.reading import Line, once, table_lines
from setwell.tables.solution.rows import Figure

FOLDER = Path(__file__).parent
ORIGIN = ("grade", "source", "locator", "note")
Groups = dict[str, dict[str, Line]]


def sheet_lines(folder: Path, name: str, *columns: str) -> Iterator[Line]:
    """Yield the lines of `<name>.csv`, which must hold these columns and the origin."""
    return table_lines(folder / f"{name}.csv", (*columns, *ORIGIN))


def known(line: Line, column: str, allowed: Iterable[str], what: str) -> str:
    """Return a cell that must name something known."""
    name = line.required(column)
    if name not in allowed:
        raise TableError(f"{line.place}: no {what} is called {name}.")
    return name


def whole(line: Line, column: str) -> int:
    """Return a cell as a whole number."""
    number = line.number(column)
    if number != int(number):
        raise TableError(f"{line.place}: {column} is {number:g}, not a whole number.")
    return int(number)


def ranged(line: Line) -> tuple[float, float, float]:
    """Return value, low and high, all there and in order."""
    value, low, high = (line.number(column) for column in ("value", "low", "high"))
    if not low <= value <= high:
        raise TableError(f"{line.place}: the value lies outside its range.")
    return value, low, high


def figure(line: Line) -> Figure:
    """Return the figure of a line; a blank side of the range is None."""
    value, low, high = line.number("value"), line.number_or_none("low"), line.number_or_none("high")
    if (low is not None and low > value) or (high is not None and high < value):
        raise TableError(f"{line.place}: the value lies outside its range.")
    return Figure(value, low, high, line.required("unit"), line.citation(), line.text("note"))


def grouped(lines: Iterable[Line], owner: str, allowed: frozenset[str]) -> Groups:
    """Return the lines by the owner they speak of and by property, each once."""
    found: Groups = {}
    for line in lines:
        name = line.choice("property", allowed)
        own = found.setdefault(line.required(owner), {})
        own[once(line, name, own)] = line
    return found


def needed(lines: Mapping[str, Line], key: str, name: str) -> Line:
    """Return the line of one property, which must be there."""
    if name not in lines:
        raise TableError(f"{key} has no {name}.")
    return lines[name]
