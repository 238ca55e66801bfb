"""Read one CSV file of this folder; a broken cell names its file, row and column."""

import csv
from collections.abc import Iterator
from pathlib import Path

from setwell.errors import TableError
from setwell.provenance import Citation, Grade

FOLDER = Path(__file__).parent


class Row(dict[str, str]):
    """One line of a table, with its file and line number for error messages."""

    place: str

    def text(self, column: str) -> str:
        """Return a cell as written."""
        try:
            return self[column]
        except KeyError as error:
            raise TableError(f"{self.place}: the column “{column}” is missing.") from error

    def required(self, column: str) -> str:
        """Return a cell that must not be blank."""
        value = self.text(column)
        if not value:
            raise TableError(f"{self.place}: “{column}” is blank.")
        return value

    def number(self, column: str) -> float:
        """Return a cell that must hold a number."""
        value = self.optional_number(column)
        if value is None:
            raise TableError(f"{self.place}: “{column}” is blank, a number is needed.")
        return value

    def optional_number(self, column: str) -> float | None:
        """Return a number, or None where the cell is blank: no figure, never zero."""
        value = self.text(column)
        if not value:
            return None
        try:
            return float(value)
        except ValueError as error:
            raise TableError(f"{self.place}: “{column}” is {value!r}, not a number.") from error

    def range(self) -> tuple[float, float, float]:
        """Return value, low and high, which must be in order."""
        value, low, high = self.number("value"), self.number("low"), self.number("high")
        if not low <= value <= high:
            raise TableError(f"{self.place}: {value:g} is not between {low:g} and {high:g}.")
        return value, low, high

    def citation(self) -> Citation:
        """Return source, locator and grade."""
        source, locator = self.required("source"), self.required("locator")
        return Citation(source, locator, self.grade())

    def grade(self) -> Grade:
        """Return the grade, which must be one of the known ones."""
        value = self.required("grade")
        try:
            return Grade(value)
        except ValueError as error:
            raise TableError(f"{self.place}: “{value}” is not a grade.") from error

    def choice(self, column: str, allowed: tuple[str, ...]) -> str:
        """Return a cell that must be one of a few words."""
        value = self.text(column)
        if value not in allowed:
            raise TableError(f"{self.place}: “{column}” is {value!r}, not {', '.join(allowed)}.")
        return value


def sheet_rows(name: str, folder: Path = FOLDER) -> Iterator[Row]:
    """Yield the lines of `<name>.csv`."""
    path = folder / f"{name}.csv"
    try:
        text = path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise TableError(f"The table {path.name} cannot be read: {error}.") from error
    for number, cells in enumerate(csv.DictReader(text.splitlines()), start=2):
        row = Row(cells)
        row.place = f"{path.name}, line {number}"
        if None in cells or None in cells.values():
            raise TableError(f"{row.place}: the number of cells does not match the header.")
        yield row
