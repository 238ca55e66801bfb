"""Briefs: save, change, list, put away, and exchange with other kitchens."""

import datetime as dt
from dataclasses import dataclass

from setwell.domain.brief import Brief
from setwell.errors import NotFoundError
from setwell.services.brief_reading import (
    brief_changed,
    brief_export_json,
    brief_from_form,
    brief_import_json,
)
from setwell.services.brief_words import (
    TextureWord,
    allergen_names,
    base_told,
    brief_asked,
    texture_words,
)
from setwell.services.clock import now
from setwell.store.brief_rows import (
    StoredBrief,
    brief_history_rows,
    brief_put_away_set,
    brief_row,
    brief_row_add,
    brief_row_same,
    brief_rows,
    brief_version_add,
)
from setwell.store.transactions import writing

__all__ = [
    "BriefSummary",
    "BriefVersion",
    "ImportedBrief",
    "SavedBrief",
    "TextureWord",
    "allergen_names",
    "base_told",
    "brief_asked",
    "brief_changed",
    "brief_export_json",
    "brief_from_form",
    "brief_get",
    "brief_history",
    "brief_import",
    "brief_import_json",
    "brief_put_away",
    "brief_save",
    "brief_update",
    "briefs_list",
    "texture_words",
]


@dataclass(frozen=True, slots=True)
class BriefSummary:
    """One brief as a list shows it: what is asked in words, of which base, and when."""

    id: int
    title: str
    asked: str
    base: str
    head_number: int
    created_at: dt.datetime
    saved_at: dt.datetime
    put_away: bool


@dataclass(frozen=True, slots=True)
class BriefVersion:
    """One version of a brief with its document."""

    summary: BriefSummary
    number: int
    brief: Brief


@dataclass(frozen=True, slots=True)
class SavedBrief:
    """What saving did; `overtaken_by` is a version that was saved since the work began."""

    id: int
    number: int
    was_unchanged: bool = False
    overtaken_by: int | None = None


@dataclass(frozen=True, slots=True)
class ImportedBrief:
    """A brief that came in; `was_known` where this kitchen had it already, word for word."""

    id: int
    was_known: bool


def brief_save(*, brief: Brief) -> SavedBrief:
    """Save a new brief as its version 1."""
    moment = now()
    with writing():
        brief_id = brief_row_add(created_at=moment)
        brief_version_add(brief_id=brief_id, number=1, document=brief, saved_at=moment)
    return SavedBrief(brief_id, 1)


def brief_update(*, brief_id: int, brief: Brief, base_number: int | None = None) -> SavedBrief:
    """Save a changed brief as its next version; earlier ones stay.

    `base_number` is the version that the work started from; None means the newest.
    """
    with writing():
        head = brief_row(brief_id=brief_id)
        base = head.number if base_number is None else base_number
        if not 1 <= base <= head.number:
            raise NotFoundError(
                f"There is no version {base} of brief {brief_id} to start from; "
                f"its newest version is {head.number}."
            )
        overtaken_by = head.number if head.number != base else None
        if head.content_hash == brief.content_hash:
            return SavedBrief(brief_id, head.number, was_unchanged=True, overtaken_by=overtaken_by)
        number = head.number + 1
        brief_version_add(brief_id=brief_id, number=number, document=brief, saved_at=now())
    return SavedBrief(brief_id, number, overtaken_by=overtaken_by)


def brief_get(*, brief_id: int, number: int | None = None) -> BriefVersion:
    """Return one version of a brief; without a number the newest. Raises NotFoundError."""
    return _version(brief_row(brief_id=brief_id, number=number))


def brief_history(*, brief_id: int) -> tuple[BriefVersion, ...]:
    """Return all versions of a brief, newest first."""
    return tuple(map(_version, brief_history_rows(brief_id=brief_id)))


def briefs_list(*, search: str = "", put_away: bool = False) -> tuple[BriefSummary, ...]:
    """Return the briefs whose title holds these words, last saved first."""
    return tuple(_summary(row) for row in brief_rows(search=search, put_away=put_away))


def brief_put_away(*, brief_id: int, put_away: bool) -> None:
    """Put a brief away, or take it out again; nothing is deleted."""
    with writing():
        brief_put_away_set(brief_id=brief_id, put_away=put_away)


def brief_import(*, text: str) -> ImportedBrief:
    """Save the brief of a JSON text; one that is here already is not saved a second time."""
    brief = brief_import_json(text=text)
    with writing():
        same = brief_row_same(content_hash=brief.content_hash)
        if same is not None:
            if same.put_away:
                brief_put_away_set(brief_id=same.id, put_away=False)
            return ImportedBrief(same.id, was_known=True)
        saved = brief_save(brief=brief)
    return ImportedBrief(saved.id, was_known=False)


def _version(row: StoredBrief) -> BriefVersion:
    return BriefVersion(_summary(row), row.number, row.document)


def _summary(row: StoredBrief) -> BriefSummary:
    return BriefSummary(
        id=row.id,
        title=row.document.title,
        asked=brief_asked(row.document),
        base=base_told(row.document),
        head_number=row.head_number,
        created_at=row.created_at,
        saved_at=row.saved_at,
        put_away=row.put_away,
    )
