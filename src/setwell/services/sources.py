"""Sources: the whole list, and what stands behind one number."""

import csv
import io
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from typing import NamedTuple

from setwell.provenance import Evidence, Grade, Source
from setwell.tables.sources import sources

# Citations of what is no publication.
_SPOKEN = {"this_kitchen": "This kitchen"}


@dataclass(frozen=True, slots=True)
class TableCitations:
    """How many rows of one table rest on a source."""

    table: str
    rows: int


@dataclass(frozen=True, slots=True)
class SourceRow:
    """One source, the tables that cite it, and with which grades."""

    source: Source
    cited_by: tuple[TableCitations, ...]
    grades: tuple[Grade, ...]


class EvidenceLine(NamedTuple):
    """One citation in words."""

    citation: str
    locator: str
    grade: Grade
    meaning: str


def source_list() -> tuple[SourceRow, ...]:
    """Return every source of the bibliography, in the order of author and year."""
    cited = _citations()
    rows = [_row(source, cited) for source in sources().values()]
    return tuple(sorted(rows, key=lambda row: row.source.citation.casefold()))


def evidence_describe(*, evidence: Evidence) -> tuple[EvidenceLine, ...]:
    """Return the citations behind a number in words, the least trustworthy first."""
    known = sources()
    ordered = sorted(evidence, key=lambda citation: -citation.grade.rank)
    return tuple(
        EvidenceLine(
            known[one.source].citation
            if one.source in known
            else _SPOKEN.get(one.source, one.source),
            one.locator,
            one.grade,
            one.grade.meaning,
        )
        for one in ordered
    )


def _row(source: Source, cited: Mapping[str, Counter[tuple[str, str]]]) -> SourceRow:
    counts = cited.get(source.id, Counter())
    tables: Counter[str] = Counter()
    for (table, _), count in counts.items():
        tables[table] += count
    grades = {Grade(grade) for _, grade in counts if grade}
    return SourceRow(
        source,
        tuple(TableCitations(table, count) for table, count in sorted(tables.items())),
        tuple(sorted(grades, key=lambda grade: grade.rank)),
    )


@cache
def _citations() -> Mapping[str, Counter[tuple[str, str]]]:
    """Count, for each source, its rows by table and grade."""
    found: dict[str, Counter[tuple[str, str]]] = {}
    for folder in sorted(files("setwell.tables").iterdir(), key=lambda item: item.name):
        for table, text in _sheets(folder):
            for row in csv.DictReader(io.StringIO(text)):
                if row.get("source"):
                    counter = found.setdefault(row["source"], Counter())
                    counter[(table, row.get("grade") or "")] += 1
    return found


def _sheets(folder: Traversable) -> Iterator[tuple[str, str]]:
    if not folder.is_dir():
        return
    for file in sorted(folder.iterdir(), key=lambda item: item.name):
        if file.name.endswith(".csv"):
            name = file.name.removesuffix(".csv").replace("_", " ")
            yield f"{folder.name}: {name}", file.read_text(encoding="utf-8")
