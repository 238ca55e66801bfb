"""Texture readings and lot checks, between database rows and domain documents."""

import datetime as dt
from dataclasses import dataclass

from django.db.models import Model, OuterRef, QuerySet, Subquery

from setwell.domain.texture_reading import LotCheck, TextureReading
from setwell.errors import NotFoundError
from setwell.store.rows import (
    LotCheckRow,
    LotCheckRulingRow,
    TextureReadingRow,
    TextureRulingRow,
    VersionReadingRow,
    VersionRow,
)


@dataclass(frozen=True, slots=True)
class StoredTextureReading:
    """One reading, the version it belongs to, and whether it counts."""

    id: int
    formula_id: int
    number: int
    content_hash: str
    title: str
    document: TextureReading
    recorded_at: dt.datetime
    counts: bool
    reason: str


@dataclass(frozen=True, slots=True)
class StoredLotCheck:
    """One check of a lot, the key of its table agent, and whether it counts."""

    id: int
    agent: str
    document: LotCheck
    recorded_at: dt.datetime
    counts: bool
    reason: str


def texture_row_add(
    *, formula_id: int, number: int, document: TextureReading, recorded_at: dt.datetime
) -> int:
    """Write a reading of one version and return its id."""
    # Through the formula's own key: numbers no database holds then find nothing, and no error.
    version = VersionRow.objects.filter(formula__id=formula_id, number=number).only("pk").first()
    if version is None:
        raise NotFoundError(f"There is no version {number} of formula {formula_id}.")
    row = TextureReadingRow.objects.create(
        version=version, document=document.canonical_json(), recorded_at=recorded_at
    )
    return int(row.pk)


def texture_rows(*, formula_id: int | None = None) -> tuple[StoredTextureReading, ...]:
    """Return the readings of one formula or of all, of the newest version first."""
    rows = TextureReadingRow.objects.all()
    return _readings(rows if formula_id is None else rows.filter(version__formula__id=formula_id))


def texture_row(*, row_id: int) -> StoredTextureReading:
    """Return one reading."""
    found = _readings(TextureReadingRow.objects.filter(pk=row_id))
    if not found:
        raise NotFoundError(f"There is no texture reading {row_id} in this kitchen.")
    return found[0]


def texture_ruling_add(*, row_id: int, counts: bool, reason: str, recorded_at: dt.datetime) -> None:
    """Write whether a reading counts from now on."""
    TextureRulingRow.objects.create(
        reading_id=texture_row(row_id=row_id).id,
        counts=counts,
        reason=reason,
        recorded_at=recorded_at,
    )


def lot_check_row_add(*, agent: str, document: LotCheck, recorded_at: dt.datetime) -> int:
    """Write a check of a lot and return its id."""
    row = LotCheckRow.objects.create(
        agent=agent, document=document.canonical_json(), recorded_at=recorded_at
    )
    return int(row.pk)


def lot_check_rows(*, agent: str | None = None) -> tuple[StoredLotCheck, ...]:
    """Return the checks of the lots of one table agent or of all, newest first."""
    rows = LotCheckRow.objects.all()
    return _checks(rows if agent is None else rows.filter(agent=agent))


def lot_check_row(*, row_id: int) -> StoredLotCheck:
    """Return one check."""
    found = _checks(LotCheckRow.objects.filter(pk=row_id))
    if not found:
        raise NotFoundError(f"There is no lot check {row_id} in this kitchen.")
    return found[0]


def lot_check_ruling_add(
    *, row_id: int, counts: bool, reason: str, recorded_at: dt.datetime
) -> None:
    """Write whether a check counts from now on."""
    LotCheckRulingRow.objects.create(
        reading_id=lot_check_row(row_id=row_id).id,
        counts=counts,
        reason=reason,
        recorded_at=recorded_at,
    )


def any_texture_rows() -> bool:
    """Return whether this kitchen has measured anything of a texture yet."""
    return TextureReadingRow.objects.exists() or LotCheckRow.objects.exists()


def hashes_with_ph() -> frozenset[str]:
    """Return the contents of which a pH was measured, in one query for all of them."""
    return frozenset(
        VersionReadingRow.objects.values_list("version__content_hash", flat=True).distinct()
    )


def _newest_ruling(table: type[Model], field: str) -> Subquery:
    of_this = table._default_manager.filter(reading_id=OuterRef("pk"))
    return Subquery(of_this.order_by("-recorded_at", "-pk").values(field)[:1])


def _readings(rows: QuerySet[TextureReadingRow]) -> tuple[StoredTextureReading, ...]:
    values = (
        rows.annotate(
            counts=_newest_ruling(TextureRulingRow, "counts"),
            reason=_newest_ruling(TextureRulingRow, "reason"),
        )
        .order_by("-version__formula_id", "-version__number", "-recorded_at", "-pk")
        .values_list(
            "pk", "version__formula_id", "version__number", "version__content_hash",
            "version__title", "document", "recorded_at", "counts", "reason",
        )
    )  # fmt: skip
    return tuple(
        StoredTextureReading(
            *row[:5], TextureReading.model_validate_json(row[5]), row[6],
            row[7] is not False, row[8] or "",
        )
        for row in values
    )  # fmt: skip


def _checks(rows: QuerySet[LotCheckRow]) -> tuple[StoredLotCheck, ...]:
    values = (
        rows.annotate(
            counts=_newest_ruling(LotCheckRulingRow, "counts"),
            reason=_newest_ruling(LotCheckRulingRow, "reason"),
        )
        .order_by("-recorded_at", "-pk")
        .values_list("pk", "agent", "document", "recorded_at", "counts", "reason")
    )
    return tuple(
        StoredLotCheck(
            pk, agent, LotCheck.model_validate_json(text), moment, counts is not False, reason or ""
        )
        for pk, agent, text, moment, counts, reason in values
    )
