"""Gelling agents that may not go into jelly mini-cups."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from types import MappingProxyType

from setwell.errors import TableError
from setwell.provenance import Citation
from setwell.tables.reading import table_lines

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
    found: dict[str, MiniCupBan] = {}
    for line in table_lines(folder / "mini_cups.csv", _COLUMNS):
        agent = line.required("agent")
        if agent in found:
            raise TableError(f"{line.place}: {agent} stands there twice.")
        found[agent] = MiniCupBan(
            agent=agent,
            e_number=line.required("e_number"),
            scope=line.choice("scope", frozenset({"jelly mini-cups", "all jelly confectionery"})),
            limit=line.number_or_none("limit_g_kg"),
            statement=line.required("statement"),
            citation=line.citation(),
            note=line.text("note"),
        )
    return MappingProxyType(found)
