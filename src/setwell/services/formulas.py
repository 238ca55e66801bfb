"""Formulas and their versions: save, list, compare, copy, put away."""

import logging

from setwell.domain.formula import Formula, Goal
from setwell.engine.difference import FormulaDifference, compare
from setwell.errors import InputError, NotFoundError
from setwell.services.assessment import formula_assess
from setwell.services.clock import now
from setwell.services.formula_results import (
    FormulaSummary,
    SavedVersion,
    VersionDetail,
    VersionSummary,
)
from setwell.services.parts import formulas_as_parts, parts_pinned
from setwell.store.formula_rows import (
    NewVersion,
    StoredVersion,
    archived_set,
    formula_row_add,
    head_row,
    head_rows,
    history_rows,
    version_row,
    version_row_add,
    version_row_by_hash,
)
from setwell.store.transactions import writing

__all__ = [
    "FormulaSummary",
    "SavedVersion",
    "VersionDetail",
    "VersionSummary",
    "formula_archive",
    "formula_create",
    "formula_duplicate",
    "formula_get",
    "formula_list",
    "formula_save",
    "formulas_as_parts",
    "version_compare",
    "version_find",
    "version_get",
    "version_history",
]

NOTE_LIMIT = 2_000
_TITLE_LIMIT = 120
_log = logging.getLogger(__name__)


def formula_create(*, formula: Formula, note: str = "") -> SavedVersion:
    """Save a new formula as its version 1."""
    document = _with_pins(formula)
    version = _new_version(document, note=note, parent_number=None)
    with writing():
        formula_id = formula_row_add(created_at=version.saved_at)
        version_row_add(formula_id=formula_id, number=1, version=version)
    return SavedVersion(
        formula_id, 1, document.content_hash, was_unchanged=False, overtaken_by=None
    )


def formula_save(
    *, formula_id: int, formula: Formula, base_number: int, note: str = ""
) -> SavedVersion:
    """Save a new version; `base_number` is the version that the work started from.

    Two people, or two tabs, that start from the same version both get a version.
    """
    document = _with_pins(formula)
    version = _new_version(document, note=note, parent_number=base_number, formula_id=formula_id)
    with writing():
        head = head_row(formula_id=formula_id)
        if not 1 <= base_number <= head.number:
            raise NotFoundError(
                f"There is no version {base_number} of formula {formula_id} to start from; "
                f"its newest version is {head.number}."
            )
        overtaken_by = head.number if head.number != base_number else None
        was_unchanged = head.content_hash == document.content_hash
        number = head.number if was_unchanged else head.number + 1
        if not was_unchanged:
            version_row_add(formula_id=formula_id, number=number, version=version)
    return SavedVersion(formula_id, number, document.content_hash, was_unchanged, overtaken_by)


def formula_list(*, search: str = "", archived: bool = False) -> tuple[FormulaSummary, ...]:
    """Return the formulas whose title holds these words, last saved first."""
    return tuple(_summary(row) for row in head_rows(search=search, archived=archived))


def formula_get(*, formula_id: int) -> FormulaSummary:
    """Return one formula as a list shows it."""
    return _summary(head_row(formula_id=formula_id))


def version_get(*, formula_id: int, number: int | None = None) -> VersionDetail:
    """Return one version with its document; without a number the newest."""
    row, formula = version_row(formula_id=formula_id, number=number)
    return VersionDetail(_version(row), formula)


def version_find(*, content_hash: str) -> VersionDetail:
    """Return the version with this content hash."""
    row, formula = version_row_by_hash(content_hash=content_hash.strip().lower())
    return VersionDetail(_version(row), formula)


def version_history(*, formula_id: int) -> tuple[VersionSummary, ...]:
    """Return all versions, newest first."""
    return tuple(_version(row) for row in history_rows(formula_id=formula_id))


def version_compare(*, formula_id: int, first: int, second: int) -> FormulaDifference:
    """Return what changed from one version to another, in words and in numbers."""
    versions = [version_get(formula_id=formula_id, number=n) for n in (first, second)]
    before, after = (
        formula_assess(
            formula=version.formula, formula_id=formula_id, number=version.summary.number
        )
        for version in versions
    )
    return compare(before, after)


def formula_duplicate(*, formula_id: int, number: int | None = None) -> SavedVersion:
    """Start a new formula from a version of another."""
    source = version_get(formula_id=formula_id, number=number)
    suffix = " (copy)"
    title = source.formula.title[: _TITLE_LIMIT - len(suffix)].rstrip() + suffix
    note = f"Copied from {source.formula.title}, version {source.summary.number}."
    return formula_create(formula=source.formula.revised(title=title), note=note)


def formula_archive(*, formula_id: int, archived: bool) -> None:
    """Put a formula away, or take it out again; nothing is deleted."""
    with writing():
        archived_set(formula_id=formula_id, archived=archived)


def _with_pins(formula: Formula) -> Formula:
    try:
        pins = parts_pinned(formula)
    except InputError:
        # A list too long to be read is still worth keeping.
        return formula
    return formula if pins == formula.parts else formula.revised(parts=pins)


def _new_version(
    document: Formula, *, note: str, parent_number: int | None, formula_id: int | None = None
) -> NewVersion:
    if len(note) > NOTE_LIMIT:
        raise InputError(
            f"The note has {len(note):,} characters; at most {NOTE_LIMIT:,} fit.",
            field="note",
            hint="Put the long part into the formula's notes.",
        )
    # A database that keeps no NUL would otherwise lose the whole version for it.
    return NewVersion(
        formula=document,
        note=note.replace("\x00", "").strip(),
        parent_number=parent_number,
        saved_at=now(),
        headline=_headline(document, formula_id),
    )


def _headline(document: Formula, formula_id: int | None) -> str:
    """Return the texture in one sentence; a fault in computing must never cost a saved version."""
    try:
        return formula_assess(formula=document, formula_id=formula_id).texture.sentence
    except Exception:
        _log.exception("No headline for “%s”: its assessment failed.", document.title)
        return ""


def _summary(row: StoredVersion) -> FormulaSummary:
    return FormulaSummary(
        id=row.formula_id,
        title=row.title,
        version_count=row.head_number,
        head_number=row.head_number,
        head_hash=row.content_hash,
        saved_at=row.saved_at,
        archived=row.archived,
        goal=Goal(row.goal),
        headline=row.headline,
    )


def _version(row: StoredVersion) -> VersionSummary:
    return VersionSummary(
        formula_id=row.formula_id,
        number=row.number,
        hash=row.content_hash,
        title=row.title,
        saved_at=row.saved_at,
        note=row.note,
        parent_number=row.parent_number,
        is_head=row.number == row.head_number,
    )
