"""Formulas that other formulas use as an ingredient."""

from setwell.domain.formula import Formula
from setwell.engine.resolve import part_titles
from setwell.store.formula_rows import documents_by_hash, head_documents, head_hashes

# As deep as the engine follows formulas within formulas.
_DEPTH_LIMIT = 8


def formulas_as_parts() -> dict[str, tuple[str, Formula]]:
    """Return hash and document of every formula in use, by its title in lower case.

    Of two formulas with the same title the one saved last is meant.
    """
    return {
        stored.title.casefold(): (stored.content_hash, formula)
        for stored, formula in head_documents()
    }


def parts_for(formula: Formula) -> dict[str, Formula]:
    """Return the formulas that this one uses, and those that they use in turn.

    A version that is pinned is taken as pinned; otherwise the newest version of that title.
    """
    newest = dict(head_hashes())
    found: dict[str, Formula] = {}
    level: tuple[Formula, ...] = (formula,)
    for _ in range(_DEPTH_LIMIT):
        wanted = {
            title: hashes
            for user in level
            for title, hashes in _wanted(user, newest).items()
            if title not in found
        }
        if not wanted:
            break
        documents = documents_by_hash(hashes={one for pair in wanted.values() for one in pair})
        chosen = {title: _first(documents, hashes) for title, hashes in wanted.items()}
        level = tuple(part for part in chosen.values() if part is not None)
        found.update({title: part for title, part in chosen.items() if part is not None})
    return found


def parts_pinned(formula: Formula) -> dict[str, str]:
    """Return the pins that a formula should be saved with.

    A pin it brings along is kept while that version is known here; a title without one is
    pinned to its newest version; a pin that no line names any more is dropped.
    """
    newest = dict(head_hashes())
    wanted = _wanted(formula, newest)
    known = documents_by_hash(hashes={one for pair in wanted.values() for one in pair})
    pins = {
        title: next((one for one in hashes if one in known), "") for title, hashes in wanted.items()
    }
    return {title: pin for title, pin in sorted(pins.items()) if pin}


def _wanted(user: Formula, newest: dict[str, str]) -> dict[str, tuple[str, ...]]:
    """Return, for each title that a line names, the hashes to try in this order."""
    titles = part_titles(user, {**newest, **user.parts})
    return {
        title: tuple(one for one in (user.parts.get(title), newest.get(title)) if one)
        for title in titles
    }


def _first(documents: dict[str, Formula], hashes: tuple[str, ...]) -> Formula | None:
    return next((documents[one] for one in hashes if one in documents), None)
