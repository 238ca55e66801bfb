"""Evidence: the citations that went into a number."""

from collections.abc import Iterable
from dataclasses import dataclass

from setwell.provenance.grade import Grade


@dataclass(frozen=True, slots=True)
class Citation:
    """One place in one source, with the grade of what was taken from it."""

    source: str
    locator: str
    grade: Grade


Evidence = tuple[Citation, ...]


def evidence_join(parts: Iterable[Evidence]) -> Evidence:
    """Return all citations once each, in order of first appearance."""
    return tuple(dict.fromkeys(citation for part in parts for citation in part))
