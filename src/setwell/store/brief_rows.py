"""Briefs and their versions, between database rows and documents."""

import datetime as dt
from dataclasses import dataclass

from django.db.models import F, OuterRef, QuerySet, Subquery

from setwell.domain.brief import Brief, brief_from_json
from setwell.errors import NotFoundError
from setwell.store.name_key import name_key
from setwell.store.rows import BriefRow, BriefVersionRow


@dataclass(frozen=True, slots=True)
class StoredBrief:
    """One version of a brief with its document; `head_number` is its newest version."""

    id: int
    number: int
    head_number: int
    content_hash: str
    created_at: dt.datetime
    saved_at: dt.datetime
    put_away: bool
    document: Brief


def brief_row_add(*, created_at: dt.datetime) -> int:
    """Add a brief without versions and return its id."""
    return int(BriefRow.objects.create(created_at=created_at).pk)


def brief_version_add(
    *, brief_id: int, number: int, document: Brief, saved_at: dt.datetime
) -> None:
    """Write one version; the database refuses a number that is taken."""
    BriefVersionRow.objects.create(
        brief_id=brief_id,
        number=number,
        content_hash=document.content_hash,
        document=document.canonical_json(),
        title=document.title,
        title_key=name_key(document.title),
        saved_at=saved_at,
    )


def brief_row(*, brief_id: int, number: int | None = None) -> StoredBrief:
    """Return one version of a brief; None means the newest."""
    # Through the brief's own key: numbers no database holds then find nothing, and no error.
    rows = _versions().filter(brief__id=brief_id)
    chosen = rows.order_by("-number") if number is None else rows.filter(number=number)
    row = chosen.first()
    if row is None:
        what = "brief" if number is None else f"version {number} of brief"
        raise NotFoundError(f"There is no {what} {brief_id} in this kitchen.")
    return _stored(row)


def brief_rows(*, search: str = "", put_away: bool = False) -> tuple[StoredBrief, ...]:
    """Return the newest version of each brief, last saved first."""
    rows = _versions().filter(
        number=F("head"), brief__put_away=put_away, title_key__contains=name_key(search)
    )
    return tuple(_stored(row) for row in rows.order_by("-saved_at", "-pk"))


def brief_history_rows(*, brief_id: int) -> tuple[StoredBrief, ...]:
    """Return all versions of one brief, newest first."""
    found = tuple(map(_stored, _versions().filter(brief__id=brief_id).order_by("-number")))
    if not found:
        raise NotFoundError(f"There is no brief {brief_id} in this kitchen.")
    return found


def brief_row_same(*, content_hash: str) -> StoredBrief | None:
    """Return the brief whose newest version has this content, if there is one."""
    row = _versions().filter(number=F("head"), content_hash=content_hash).order_by("-pk").first()
    return None if row is None else _stored(row)


def brief_put_away_set(*, brief_id: int, put_away: bool) -> None:
    """Put a brief away, or take it out again."""
    if not BriefRow.objects.filter(id=brief_id).update(put_away=put_away):
        raise NotFoundError(f"There is no brief {brief_id} in this kitchen.")


def _versions() -> QuerySet[BriefVersionRow]:
    same_brief = BriefVersionRow.objects.filter(brief_id=OuterRef("brief_id"))
    newest = same_brief.order_by("-number").values("number")[:1]
    return BriefVersionRow.objects.select_related("brief").annotate(head=Subquery(newest))


def _stored(row: BriefVersionRow) -> StoredBrief:
    return StoredBrief(
        id=row.brief_id,
        number=row.number,
        head_number=getattr(row, "head"),  # noqa: B009 - added by the query, not a field
        content_hash=row.content_hash,
        created_at=row.brief.created_at,
        saved_at=row.saved_at,
        put_away=row.brief.put_away,
        document=brief_from_json(row.document),
    )
