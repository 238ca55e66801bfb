"""What listed allergens are called on a label."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from setwell.provenance import Citation
from setwell.tables.reading import Line, rows_keyed, table_lines

FOLDER = Path(__file__).parent
_COLUMNS = (
    "market", "allergen", "kind", "name", "words", "is_listed", "needs_species",
    "grade", "source", "locator", "note",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class LabelAllergen:
    """One allergen in one market; one of `words` in an ingredient's name tells it."""

    market: str
    allergen: str
    kind: str
    name: str
    words: tuple[str, ...]
    is_listed: bool
    needs_species: bool
    citation: Citation
    note: str


@cache
def label_allergens(folder: Path = FOLDER) -> Mapping[tuple[str, str, str], LabelAllergen]:
    """Return the allergens by market, allergen and kind (blank: as a whole)."""
    lines = table_lines(folder / "allergens.csv", _COLUMNS)
    return rows_keyed(lines, _allergen, key=lambda row: (row.market, row.allergen, row.kind))


def _allergen(line: Line) -> LabelAllergen:
    return LabelAllergen(
        market=line.choice("market", frozenset({"us", "eu"})),
        allergen=line.required("allergen"),
        kind=line.text("kind"),
        name=line.required("name"),
        words=tuple(line.text("words").split()),
        is_listed=line.is_yes("is_listed"),
        needs_species=line.is_yes("needs_species"),
        citation=line.citation(),
        note=line.text("note"),
    )
