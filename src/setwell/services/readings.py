# ruff: noqa: A002 - "id" is what the front doors and the tables call it

"""pH readings of saved versions: record, list, delete, and the one value they stand for."""

from setwell.domain.reading import MeanReading, VersionReading, readings_mean
from setwell.services.clock import now
from setwell.store.reading_rows import (
    StoredReading,
    reading_row,
    reading_row_add,
    reading_row_remove,
    reading_rows,
    reading_rows_before,
    reading_rows_by_hash,
)
from setwell.store.transactions import writing

__all__ = [
    "StoredReading",
    "measured_ph",
    "measured_ph_before",
    "version_reading_delete",
    "version_reading_get",
    "version_reading_list",
    "version_reading_record",
]


def version_reading_record(*, formula_id: int, number: int, document: VersionReading) -> int:
    """Record a reading of one version and return its id; it can be deleted, never changed."""
    tidy = document.model_copy(update={"note": document.note.strip()})
    with writing():
        return reading_row_add(
            formula_id=formula_id, number=number, document=tidy, recorded_at=now()
        )


def version_reading_list(*, formula_id: int) -> tuple[StoredReading, ...]:
    """Return the readings of all versions of a formula, those of the newest version first."""
    return reading_rows(formula_id=formula_id)


def version_reading_get(*, id: int) -> StoredReading:
    """Return one reading."""
    return reading_row(row_id=id)


def version_reading_delete(*, id: int) -> None:
    """Delete a reading, such as one taken with a meter that was not calibrated."""
    with writing():
        reading_row_remove(row_id=id)


def measured_ph(*, content_hash: str) -> MeanReading | None:
    """Return what was measured of this content, in whichever version it was saved."""
    return _mean(reading_rows_by_hash(content_hash=content_hash))


def measured_ph_before(*, formula_id: int, number: int) -> tuple[int, MeanReading] | None:
    """Return the latest version before this one that was measured, and its reading."""
    rows = reading_rows_before(formula_id=formula_id, number=number)
    if not rows:
        return None
    latest = rows[0].number
    mean = _mean(tuple(row for row in rows if row.number == latest))
    return None if mean is None else (latest, mean)


def _mean(rows: tuple[StoredReading, ...]) -> MeanReading | None:
    return readings_mean(tuple(row.document for row in rows))
