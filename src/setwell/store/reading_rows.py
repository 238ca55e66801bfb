"""pH readings of saved versions, between database rows and domain documents."""

import datetime as dt
from dataclasses import dataclass

from django.db.models import QuerySet

from setwell.domain.reading import VersionReading
from setwell.errors import NotFoundError
from setwell.store.rows import VersionReadingRow, VersionRow


@dataclass(frozen=True, slots=True)
class StoredReading:
    """One reading and the version that it belongs to."""

    id: int
    formula_id: int
    number: int
    document: VersionReading
    recorded_at: dt.datetime


def reading_row_add(
    *, formula_id: int, number: int, document: VersionReading, recorded_at: dt.datetime
) -> int:
    """Write a reading of one version and return its id."""
    # Through the formula's own key: numbers no database holds then find nothing, and no error.
    version = VersionRow.objects.filter(formula__id=formula_id, number=number).only("pk").first()
    if version is None:
        raise NotFoundError(f"There is no version {number} of formula {formula_id}.")
    row = VersionReadingRow.objects.create(
        version=version, document=document.canonical_json(), recorded_at=recorded_at
    )
    return int(row.pk)


def reading_rows(*, formula_id: int) -> tuple[StoredReading, ...]:
    """Return the readings of all versions of a formula, of the newest version first."""
    return _stored(VersionReadingRow.objects.filter(version__formula__id=formula_id))


def reading_rows_by_hash(*, content_hash: str) -> tuple[StoredReading, ...]:
    """Return the readings of every version with this content."""
    return _stored(VersionReadingRow.objects.filter(version__content_hash=content_hash))


def reading_rows_before(*, formula_id: int, number: int) -> tuple[StoredReading, ...]:
    """Return the readings of the versions before this one, of the latest of them first."""
    earlier = VersionReadingRow.objects.filter(
        version__formula__id=formula_id, version__number__lt=number
    )
    return _stored(earlier)


def reading_row(*, row_id: int) -> StoredReading:
    """Return one reading."""
    found = _stored(VersionReadingRow.objects.filter(pk=row_id))
    if not found:
        raise NotFoundError(f"There is no reading {row_id} of a version in this kitchen.")
    return found[0]


def reading_row_remove(*, row_id: int) -> None:
    """Delete one reading."""
    VersionReadingRow.objects.filter(pk=reading_row(row_id=row_id).id).delete()


def _stored(rows: QuerySet[VersionReadingRow]) -> tuple[StoredReading, ...]:
    ordered = rows.order_by("-version__number", "-recorded_at", "-pk")
    values = ordered.values_list(
        "pk", "version__formula_id", "version__number", "document", "recorded_at"
    )
    return tuple(
        StoredReading(pk, formula_id, number, VersionReading.model_validate_json(text), moment)
        for pk, formula_id, number, text, moment in values
    )
