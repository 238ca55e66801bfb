"""How far other kitchens, lots and foods differ from what is written."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from setwell.errors import MissingDataError, TableError
from setwell.provenance import Citation
from setwell.tables.reading import Line, rows_keyed, table_lines

FOLDER = Path(__file__).parent
_COLUMNS = (
    "id", "statement", "value", "unit", "distribution", "grade", "source", "locator", "note",
)  # fmt: skip
_SHAPES = frozenset({"normal", "rectangular", "fixed"})
_LOTS = "lot_strength"


@dataclass(frozen=True, slots=True)
class Spread:
    """One spread: its width, in what unit, and of what shape."""

    key: str
    statement: str
    value: float
    unit: str
    distribution: str
    citation: Citation
    note: str


@cache
def spreads(folder: Path = FOLDER) -> Mapping[str, Spread]:
    """Return all spreads by key."""
    lines = table_lines(folder / "spreads.csv", _COLUMNS)
    return rows_keyed(lines, _spread, key=lambda row: row.key)


def spread(key: str) -> Spread:
    """Return one spread."""
    try:
        return spreads()[key]
    except KeyError:
        raise MissingDataError(f"There is no spread “{key}”.") from None


def lot_spread(agent: str) -> Spread:
    """Return how far lots of an agent differ; agents without a row differ as usual."""
    return spreads().get(f"{_LOTS}:{agent}", spreads()[_LOTS])


def _spread(line: Line) -> Spread:
    value = line.number("value")
    if not 0.0 <= value < float("inf"):
        raise TableError(f"{line.place}: value is {value:g}; a width is zero or more.")
    return Spread(
        key=line.required("id"),
        statement=line.required("statement"),
        value=value,
        unit=line.required("unit"),
        distribution=line.choice("distribution", _SHAPES),
        citation=line.citation(),
        note=line.text("note"),
    )
