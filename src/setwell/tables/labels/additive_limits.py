"""What an additive may reach in a kind of food."""

from collections import Counter
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from setwell.errors import TableError
from setwell.provenance import Citation
from setwell.tables.reading import Line, table_lines

FOLDER = Path(__file__).parent
ANY = "any"
_KINDS = frozenset({"banned", "not_listed", "limit", "as_needed"})
_COUNTED = frozenset({"each", "together", "proportional", "p2o5"})
_COLUMNS = (
    "id", "market", "categories", "e_numbers", "kind", "limit_mg_kg", "counted", "condition",
    "is_conditional", "rule", "edition", "grade", "source", "locator", "note",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class AdditiveLimit:
    """One rule; `limit` is in mg per kg of the food as served, None where there is no figure."""

    id: str
    market: str
    categories: frozenset[str]
    e_numbers: frozenset[str]
    kind: str
    limit: float | None
    counted: str
    condition: str
    is_conditional: bool
    rule: str
    edition: str
    citation: Citation

    @property
    def is_barred(self) -> bool:
        """True when the additive must not be there at all."""
        return self.kind in {"banned", "not_listed"}


@cache
def additive_limits(folder: Path = FOLDER) -> tuple[AdditiveLimit, ...]:
    """Return all rules of both markets."""
    found = tuple(_limit(line) for line in table_lines(folder / "additive_limits.csv", _COLUMNS))
    for rule, times in Counter(one.id for one in found).items():
        if times > 1:
            raise TableError(f"additive_limits.csv: {rule} stands there twice.")
    return found


def _limit(line: Line) -> AdditiveLimit:
    kind, limit = line.choice("kind", _KINDS), line.number_or_none("limit_mg_kg")
    if (kind == "limit") != (limit is not None):
        raise TableError(f"{line.place}: a limit has a figure, and nothing else has.")
    return AdditiveLimit(
        id=line.required("id"),
        market=line.choice("market", frozenset({"us", "eu"})),
        categories=frozenset(line.required("categories").split()),
        e_numbers=frozenset(line.required("e_numbers").split()),
        kind=kind,
        limit=limit,
        counted=line.choice("counted", _COUNTED),
        condition=line.text("condition"),
        is_conditional=line.is_yes("is_conditional"),
        rule=line.required("rule"),
        edition=line.required("edition"),
        citation=line.citation(),
    )
