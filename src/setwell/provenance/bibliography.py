"""Read bibliography entries in CSL-JSON."""

import json
from dataclasses import dataclass
from typing import Any

from setwell.errors import TableError


@dataclass(frozen=True, slots=True)
class Source:
    """One entry of the bibliography."""

    id: str
    title: str
    authors: str
    year: str
    container: str
    doi: str
    note: str

    @property
    def citation(self) -> str:
        """The entry as one printable line."""
        head = ", ".join(part for part in (self.authors, self.year) if part)
        tail = ", ".join(part for part in (self.container, self.doi and f"doi {self.doi}") if part)
        return ". ".join(part for part in (head, self.title, tail) if part)


def bibliography_parse(text: str) -> dict[str, Source]:
    """Return the entries of one CSL-JSON list by id."""
    entries = [_source(raw) for raw in json.loads(text)]
    found = {entry.id: entry for entry in entries}
    if len(found) != len(entries):
        raise TableError("The bibliography has the same id twice.")
    return found


def _source(raw: dict[str, Any]) -> Source:
    names = [a.get("literal") or a.get("family", "") for a in raw.get("author", [])]
    parts = raw.get("issued", {}).get("date-parts", [[""]])
    where = ", ".join(
        str(raw[key]) for key in ("container-title", "volume", "publisher") if raw.get(key)
    )
    pages = f"{where}:{raw['page']}" if raw.get("page") else where
    return Source(
        id=raw["id"],
        title=raw["title"],
        authors="; ".join(names),
        year=str(parts[0][0]),
        container=pages,
        doi=raw.get("DOI", ""),
        note=raw.get("note", ""),
    )
