"""Limits of the model food code; the local code decides."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from setwell.provenance import Citation
from setwell.tables.reading import Line, rows_keyed, table_lines

FOLDER = Path(__file__).parent
_COLUMNS = (
    "id", "topic", "start_temperature_c", "start_temperature_f", "temperature_c", "temperature_f",
    "time_s", "statement", "applies_to", "edition", "section",
    "grade", "source", "locator", "note",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class FoodCodeRule:
    """One limit: temperatures [°C and °F as printed], time [s]; None = the rule has none."""

    key: str
    topic: str
    start_temperature_c: float | None
    start_temperature_f: float | None
    temperature_c: float | None
    temperature_f: float | None
    time_s: float | None
    statement: str
    applies_to: str
    edition: str
    section: str
    citation: Citation
    note: str


@cache
def food_code_rules(folder: Path = FOLDER) -> Mapping[str, FoodCodeRule]:
    """Return the rules by key."""
    lines = table_lines(folder / "food_code.csv", _COLUMNS)
    return rows_keyed(lines, _rule, key=lambda row: row.key)


def _rule(line: Line) -> FoodCodeRule:
    return FoodCodeRule(
        key=line.required("id"),
        topic=line.required("topic"),
        start_temperature_c=line.number_or_none("start_temperature_c"),
        start_temperature_f=line.number_or_none("start_temperature_f"),
        temperature_c=line.number_or_none("temperature_c"),
        temperature_f=line.number_or_none("temperature_f"),
        time_s=line.number_or_none("time_s"),
        statement=line.required("statement"),
        applies_to=line.required("applies_to"),
        edition=line.required("edition"),
        section=line.required("section"),
        citation=line.citation(),
        note=line.text("note"),
    )
