"""Formulas and their versions, between database rows and domain documents."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from django.db.models import F, OuterRef, QuerySet, Subquery

from setwell.domain.formula import Formula, formula_from_json
from setwell.errors import NotFoundError
from setwell.store.name_key import name_key
from setwell.store.rows import FormulaRow, VersionRow


@dataclass(frozen=True, slots=True)
class StoredVersion:
    """What is known of one version without reading its document."""

    formula_id: int
    number: int
    content_hash: str
    title: str
    goal: str
    note: str
    parent_number: int | None
    saved_at: dt.datetime
    headline: str
    archived: bool
    head_number: int


@dataclass(frozen=True, slots=True)
class NewVersion:
    """What is written when a version is saved."""

    formula: Formula
    note: str
    parent_number: int | None
    saved_at: dt.datetime
    headline: str


def formula_row_add(*, created_at: dt.datetime) -> int:
    """Add a formula without versions and return its id."""
    return FormulaRow.objects.create(created_at=created_at).pk


def version_row_add(*, formula_id: int, number: int, version: NewVersion) -> None:
    """Write one version; the database refuses a number that is taken."""
    document = version.formula
    VersionRow.objects.create(
        formula_id=formula_id,
        number=number,
        content_hash=document.content_hash,
        document=document.canonical_json(),
        title=document.title,
        title_key=name_key(document.title),
        goal=document.goal.value,
        note=version.note,
        parent_number=version.parent_number,
        saved_at=version.saved_at,
        headline=version.headline,
    )


def head_rows(*, search: str = "", archived: bool = False) -> tuple[StoredVersion, ...]:
    """Return the newest version of each formula, last saved first."""
    rows = _heads().filter(formula__archived=archived, title_key__contains=name_key(search))
    return tuple(_stored(row) for row in rows.defer("document").order_by("-saved_at", "-pk"))


def head_row(*, formula_id: int) -> StoredVersion:
    """Return the newest version of one formula."""
    row = _of_formula(formula_id).defer("document").order_by("-number").first()
    if row is None:
        raise _unknown(formula_id)
    return _stored(row)


def history_rows(*, formula_id: int) -> tuple[StoredVersion, ...]:
    """Return all versions of one formula, newest first."""
    rows = _of_formula(formula_id).defer("document").order_by("-number")
    found = tuple(_stored(row) for row in rows)
    if not found:
        raise _unknown(formula_id)
    return found


def version_row(*, formula_id: int, number: int | None) -> tuple[StoredVersion, Formula]:
    """Return one version with its document; None means the newest."""
    rows = _of_formula(formula_id)
    chosen = rows.order_by("-number") if number is None else rows.filter(number=number)
    row = chosen.first()
    if row is None:
        what = "formula" if number is None else f"version {number} of formula"
        raise NotFoundError(f"There is no {what} {formula_id} in this kitchen.")
    return _stored(row), document_read(row.document)


def version_row_by_hash(*, content_hash: str) -> tuple[StoredVersion, Formula]:
    """Return the version that has this content; the newest when several do."""
    row = _versions().filter(content_hash=content_hash).order_by("-pk").first()
    if row is None:
        raise NotFoundError(
            f"No version in this kitchen has the hash {content_hash[:12]}….",
            hint="Import the formula from the kitchen that it came from.",
        )
    return _stored(row), document_read(row.document)


def documents_by_hash(*, hashes: Iterable[str]) -> dict[str, Formula]:
    """Return the documents of those hashes that are stored here."""
    rows = VersionRow.objects.filter(content_hash__in=set(hashes))
    pairs = rows.values_list("content_hash", "document")
    return {content_hash: document_read(text) for content_hash, text in pairs}


def head_hashes() -> tuple[tuple[str, str], ...]:
    """Return title and hash of the newest version of each formula in use, last saved last."""
    rows = _heads().filter(formula__archived=False).order_by("saved_at", "pk")
    return tuple(rows.values_list("title", "content_hash"))


def head_documents() -> tuple[tuple[StoredVersion, Formula], ...]:
    """Return the newest version of each formula in use, last saved last."""
    rows = _heads().filter(formula__archived=False).order_by("saved_at", "pk")
    return tuple((_stored(row), document_read(row.document)) for row in rows)


def archived_set(*, formula_id: int, archived: bool) -> None:
    """Put a formula away, or take it out again."""
    if not FormulaRow.objects.filter(pk=formula_id).update(archived=archived):
        raise _unknown(formula_id)


@lru_cache(maxsize=256)
def document_read(text: str) -> Formula:
    """Return the formula of a stored document; documents are immutable, so reading once will do."""
    return formula_from_json(text)


def _versions() -> QuerySet[VersionRow]:
    same_formula = VersionRow.objects.filter(formula_id=OuterRef("formula_id"))
    newest = same_formula.order_by("-number").values("number")[:1]
    return VersionRow.objects.select_related("formula").annotate(head=Subquery(newest))


def _of_formula(formula_id: int) -> QuerySet[VersionRow]:
    # Through the formula's own key: numbers no database holds then find nothing, and no error.
    return _versions().filter(formula__id=formula_id)


def _heads() -> QuerySet[VersionRow]:
    return _versions().filter(number=F("head"))


def _unknown(formula_id: int) -> NotFoundError:
    return NotFoundError(f"There is no formula {formula_id} in this kitchen.")


def _stored(row: VersionRow) -> StoredVersion:
    return StoredVersion(
        formula_id=row.formula_id,
        number=row.number,
        content_hash=row.content_hash,
        title=row.title,
        goal=row.goal,
        note=row.note,
        parent_number=row.parent_number,
        saved_at=row.saved_at,
        headline=row.headline,
        archived=row.formula.archived,
        head_number=getattr(row, "head"),  # noqa: B009 - added by the query, not a field
    )
