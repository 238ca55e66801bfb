"""The bibliography: every source that a shipped table cites."""

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from types import MappingProxyType

from setwell.errors import TableError
from setwell.provenance import Source, bibliography_parse

FOLDER = Path(__file__).parent / "bibliography"


@cache
def sources() -> Mapping[str, Source]:
    """Return all sources by id, read from every list in the bibliography folder."""
    return sources_read(FOLDER)


def sources_read(folder: Path) -> Mapping[str, Source]:
    """Return the sources of every CSL-JSON list in one folder."""
    found: dict[str, Source] = {}
    for path in sorted(folder.glob("*.json")):
        for source in _entries(path).values():
            if source.id in found:
                raise TableError(
                    f"The source “{source.id}” in {path.name} is defined twice.",
                    hint="Keep one of the two entries.",
                )
            found[source.id] = source
    return MappingProxyType(dict(sorted(found.items())))


def _entries(path: Path) -> dict[str, Source]:
    try:
        return bibliography_parse(path.read_text(encoding="utf-8"))
    except (ValueError, KeyError, TypeError, AttributeError) as error:
        raise TableError(f"The bibliography {path.name} cannot be read: {error}.") from error
