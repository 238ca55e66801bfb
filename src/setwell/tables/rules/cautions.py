"""Short warnings; each one ends by deferring to the local rule."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from setwell.errors import TableError
from setwell.provenance import Citation
from setwell.tables.reading import Line, rows_keyed, table_lines

FOLDER = Path(__file__).parent
_COLUMNS = (
    "id", "topic", "applies_when", "text", "section", "grade", "source", "locator", "note",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Caution:
    """What to show when a result could hurt someone; `section` may be blank."""

    key: str
    topic: str
    applies_when: str
    text: str
    section: str
    citation: Citation


@cache
def cautions(folder: Path = FOLDER) -> Mapping[str, Caution]:
    """Return all cautions by key."""
    lines = table_lines(folder / "cautions.csv", _COLUMNS)
    return rows_keyed(lines, _caution, key=lambda row: row.key)


def _caution(line: Line) -> Caution:
    text = line.required("text")
    if not text.endswith(("decides.", "decide.")):
        raise TableError(f"{line.place}: the caution does not say who decides.")
    return Caution(
        key=line.required("id"),
        topic=line.required("topic"),
        applies_when=line.required("applies_when"),
        text=text,
        section=line.text("section"),
        citation=line.citation(),
    )
