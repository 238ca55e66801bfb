"""What foods are called in an ingredient list."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from setwell.provenance import Citation
from setwell.tables.reading import Line, rows_keyed, table_lines

FOLDER = Path(__file__).parent
_COLUMNS = (
    "key", "us_name", "eu_name", "e_numbers", "is_compound",
    "grade", "source", "locator", "note",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class FoodName:
    """Label names of one food; `e_numbers` where it is an additive, several of a mixed one."""

    key: str
    us_name: str
    eu_name: str
    e_numbers: tuple[str, ...]
    is_compound: bool
    citation: Citation
    note: str


@cache
def food_names(folder: Path = FOLDER) -> Mapping[str, FoodName]:
    """Return the label names by food key."""
    lines = table_lines(folder / "food_names.csv", _COLUMNS)
    return rows_keyed(lines, _food_name, key=lambda row: row.key)


def _food_name(line: Line) -> FoodName:
    us_name = line.required("us_name")
    return FoodName(
        key=line.required("key"),
        us_name=us_name,
        eu_name=line.text("eu_name") or us_name,
        e_numbers=tuple(line.text("e_numbers").split()),
        is_compound=line.is_yes("is_compound"),
        citation=line.citation(),
        note=line.text("note"),
    )
