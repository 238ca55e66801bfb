"""Statements with their evidence, and how a card numbers where they come from."""

from collections.abc import Iterable
from dataclasses import dataclass

from setwell.documents.card_parts import CardNote, CardSource
from setwell.provenance import Citation, Evidence, Grade
from setwell.tables.sources import sources


@dataclass(frozen=True, slots=True)
class Told:
    """A statement; `decides` names what goes right or wrong with it, empty for a remark."""

    text: str
    evidence: Evidence
    decides: str = ""


class SourceNumbers:
    """Numbers the sources of one card in the order in which they come up.

    Places in one source with one grade share a number.
    """

    def __init__(self) -> None:
        self._places: dict[tuple[str, Grade], list[str]] = {}

    def note(self, told: Told) -> CardNote:
        """Return a statement with the numbers of its sources."""
        return CardNote(told.text, tuple(dict.fromkeys(map(self._number, told.evidence))))

    def notes(self, statements: Iterable[Told]) -> tuple[CardNote, ...]:
        """Return statements with the numbers of their sources."""
        return tuple(self.note(told) for told in statements)

    def listed(self) -> tuple[CardSource, ...]:
        """Return all sources that were numbered."""
        return tuple(
            CardSource(number, _written(source, places), grade.value)
            for number, ((source, grade), places) in enumerate(self._places.items(), start=1)
        )

    def _number(self, citation: Citation) -> int:
        places = self._places.setdefault((citation.source, citation.grade), [])
        if citation.locator and citation.locator not in places:
            places.append(citation.locator)
        return list(self._places).index((citation.source, citation.grade)) + 1


def _written(source: str, places: list[str]) -> str:
    known = sources().get(source)
    title = known.title if known is not None else source.replace("_", " ")
    by = known.authors if known is not None else ""
    year = known.year if known is not None and known.year not in title else ""
    # "Common practice ..., common practice" would say it twice.
    said = title.casefold()
    told = [place for place in places if place.casefold().split(",")[0] not in said]
    parts = (f"{by}: {title}" if by and by not in title else title, year, "; ".join(told))
    return ", ".join(dict.fromkeys(part for part in parts if part))
