"""Gelling agents that may not go into jelly mini-cups."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from setwell.provenance import Citation
from setwell.tables.reading import Line, rows_keyed, table_lines

FOLDER = Path(__file__).parent
_COLUMNS = (
    "agent", "e_number", "scope", "limit_g_kg", "statement",
    "grade", "source", "locator", "note",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class MiniCupBan:
    """A European ban; `limit` caps the agent in other foods [g/kg], None = no figure here."""

    agent: str
    e_number: str
    scope: str
    limit: float | None
    statement: str
    citation: Citation
    note: str


@cache
def mini_cup_bans(folder: Path = FOLDER) -> Mapping[str, MiniCupBan]:
    """Return the bans by agent key; an agent without one can still choke when firm."""
    lines = table_lines(folder / "mini_cups.csv", _COLUMNS)
    return rows_keyed(lines, _ban, key=lambda row: row.agent)


def _ban(line: Line) -> MiniCupBan:
    return MiniCupBan(
        agent=line.required("agent"),
        e_number=line.required("e_number"),
        scope=line.choice("scope", frozenset({"jelly mini-cups", "all jelly confectionery"})),
        limit=line.number_or_none("limit_g_kg"),
        statement=line.required("statement"),
        citation=line.citation(),
        note=line.text("note"),
    )
