"""Read tidy CSV tables; a broken line is named with file and line number."""

import csv
from collections.abc import Callable, Container, Hashable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import TypeVar

from setwell.errors import TableError
from setwell.provenance import Citation, Grade

_GRADES = {grade.value: grade for grade in Grade}

Key = TypeVar("Key", bound=Hashable)
Row = TypeVar("Row")


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a table, by column name."""

    cells: dict[str, str]
    place: str

    def text(self, column: str) -> str:
        """Return a cell as written; blank is allowed."""
        return self.cells[column]

    def required(self, column: str) -> str:
        """Return a cell that must not be blank."""
        cell = self.cells[column]
        if not cell:
            raise TableError(f"{self.place}: {column} is blank.")
        return cell

    def number(self, column: str) -> float:
        """Return a cell as a number."""
        cell = self.required(column)
        try:
            return float(cell)
        except ValueError:
            raise TableError(f"{self.place}: {column} is “{cell}”, not a number.") from None

    def number_or_none(self, column: str) -> float | None:
        """Return a cell as a number, None when blank."""
        return self.number(column) if self.cells[column] else None

    def choice(self, column: str, allowed: frozenset[str]) -> str:
        """Return a cell that must be one of a few words."""
        cell = self.cells[column]
        if cell not in allowed:
            words = ", ".join(sorted(word or "blank" for word in allowed))
            raise TableError(f"{self.place}: {column} is “{cell}”, not one of {words}.")
        return cell

    def is_yes(self, column: str) -> bool:
        """Return a yes or no cell."""
        return self.choice(column, frozenset({"yes", "no"})) == "yes"

    def citation(self) -> Citation:
        """Return where the line comes from."""
        grade = self.required("grade")
        if grade not in _GRADES:
            raise TableError(f"{self.place}: “{grade}” is not a grade.")
        return Citation(self.required("source"), self.required("locator"), _GRADES[grade])


def table_lines(path: Path, columns: tuple[str, ...]) -> Iterator[Line]:
    """Yield the lines of a CSV file whose header must hold these columns."""
    try:
        text = path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise TableError(f"{path.name} cannot be read: {error}") from error
    reader = csv.reader(text.splitlines())
    header = next(reader, [])
    missing = [column for column in columns if column not in header]
    if missing:
        raise TableError(f"{path.name}: the column {missing[0]} is missing.")
    for number, cells in enumerate(reader, start=2):
        place = f"{path.name}, line {number}"
        if len(cells) != len(header):
            raise TableError(f"{place}: {len(cells)} cells under {len(header)} columns.")
        yield Line(dict(zip(header, cells, strict=True)), place)


def rows_keyed(
    lines: Iterable[Line], row_of: Callable[[Line], Row], *, key: Callable[[Row], Key]
) -> Mapping[Key, Row]:
    """Return the rows of a table by their keys, in the order of the file."""
    found: dict[Key, Row] = {}
    for line in lines:
        row = row_of(line)
        found[once(line, key(row), found)] = row
    return MappingProxyType(found)


def once(line: Line, key: Key, taken: Container[Key]) -> Key:
    """Return the key, which no earlier line may have."""
    if key in taken:
        name = " ".join(filter(None, key)) if isinstance(key, tuple) else key
        raise TableError(f"{line.place}: {name} stands there twice.")
    return key
