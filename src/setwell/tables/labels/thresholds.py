"""Shares and amounts from which a label has to say something, and what brings sulfites."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from setwell.errors import TableError
from setwell.provenance import Citation
from setwell.tables.reading import Line, rows_keyed, table_lines

FOLDER = Path(__file__).parent
_COLUMNS = (
    "key", "market", "value", "unit", "statement", "rule", "edition",
    "grade", "source", "locator", "note",
)  # fmt: skip
_SULFITE_COLUMNS = ("key", "low_mg_kg", "high_mg_kg", "grade", "source", "locator", "note")


@dataclass(frozen=True, slots=True)
class Threshold:
    """One threshold of one market with the rule it comes from."""

    key: str
    market: str
    value: float
    unit: str
    statement: str
    rule: str
    edition: str
    citation: Citation


@dataclass(frozen=True, slots=True)
class SulfiteSource:
    """What an ingredient may bring, in mg of sulfur dioxide per kg of it."""

    key: str
    low: float
    high: float
    citation: Citation


@cache
def label_thresholds(folder: Path = FOLDER) -> Mapping[tuple[str, str], Threshold]:
    """Return the thresholds by key and market."""
    lines = table_lines(folder / "thresholds.csv", _COLUMNS)
    return rows_keyed(lines, _threshold, key=lambda row: (row.key, row.market))


@cache
def sulfite_sources(folder: Path = FOLDER) -> Mapping[str, SulfiteSource]:
    """Return by material key what may bring sulfites."""
    lines = table_lines(folder / "sulfites.csv", _SULFITE_COLUMNS)
    return rows_keyed(lines, _sulfite_source, key=lambda row: row.key)


def _threshold(line: Line) -> Threshold:
    return Threshold(
        key=line.required("key"),
        market=line.choice("market", frozenset({"us", "eu"})),
        value=line.number("value"),
        unit=line.required("unit"),
        statement=line.required("statement"),
        rule=line.required("rule"),
        edition=line.required("edition"),
        citation=line.citation(),
    )


def _sulfite_source(line: Line) -> SulfiteSource:
    key, low, high = line.required("key"), line.number("low_mg_kg"), line.number("high_mg_kg")
    if not 0 <= low <= high:
        raise TableError(f"{line.place}: the range of {key} is upside down.")
    return SulfiteSource(key, low, high, line.citation())
