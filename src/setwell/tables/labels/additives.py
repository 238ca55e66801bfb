"""Additives as ingredient lists name them."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from setwell.provenance import Citation
from setwell.tables.reading import Line, rows_keyed, table_lines

FOLDER = Path(__file__).parent
_COLUMNS = (
    "e_number", "us_name", "eu_name", "eu_class", "gel_class", "group_i", "us_section", "us_use",
    "grade", "source", "locator", "note",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Additive:
    """One additive: names, EU class in a liquid and in a gel, and its EU group."""

    e_number: str
    us_name: str
    eu_name: str
    eu_class: str
    gel_class: str
    group_i: str
    us_section: str
    us_use: str
    citation: Citation


@cache
def additives(folder: Path = FOLDER) -> Mapping[str, Additive]:
    """Return the additives by European number."""
    lines = table_lines(folder / "additives.csv", _COLUMNS)
    return rows_keyed(lines, _additive, key=lambda row: row.e_number)


def _additive(line: Line) -> Additive:
    eu_class = line.required("eu_class")
    return Additive(
        e_number=line.required("e_number"),
        us_name=line.required("us_name"),
        eu_name=line.required("eu_name"),
        eu_class=eu_class,
        gel_class=line.text("gel_class") or eu_class,
        group_i=line.choice("group_i", frozenset({"yes", "no", "capped"})),
        us_section=line.text("us_section"),
        us_use=line.text("us_use"),
        citation=line.citation(),
    )
