"""Photos of formulas, between database rows and plain values."""

import datetime as dt
from dataclasses import dataclass

from setwell.errors import NotFoundError
from setwell.store.rows import FormulaRow, PhotoRow

_FIELDS = (
    "pk", "formula_id", "place", "place_text", "caption", "taken_of", "width", "height",
    "recorded_at",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class StoredPhoto:
    """One photo without its picture; `taken_of` is the version it was taken of."""

    id: int
    formula_id: int
    place: str
    place_text: str
    caption: str
    taken_of: int
    width: int
    height: int
    recorded_at: dt.datetime


def photo_rows(*, formula_id: int) -> tuple[StoredPhoto, ...]:
    """Return the photos of a formula in the order in which they came, without pictures."""
    rows = PhotoRow.objects.filter(formula__id=formula_id).order_by("recorded_at", "pk")
    return tuple(StoredPhoto(*values) for values in rows.values_list(*_FIELDS))


def photo_row(*, row_id: int) -> StoredPhoto:
    """Return one photo without its picture."""
    found = PhotoRow.objects.filter(pk=row_id).values_list(*_FIELDS).first()
    if found is None:
        raise _missing(row_id)
    return StoredPhoto(*found)


def photo_picture(*, row_id: int) -> bytes:
    """Return the picture of a photo as a JPEG file."""
    found = PhotoRow.objects.filter(pk=row_id).values_list("jpeg", flat=True).first()
    if found is None:
        raise _missing(row_id)
    return bytes(found)


def photo_row_put(
    *,
    formula_id: int,
    place: str,
    place_text: str,
    caption: str,
    taken_of: int,
    size: tuple[int, int],
    jpeg: bytes,
    recorded_at: dt.datetime,
) -> int:
    """Write the photo of a place and return its id; one that stood there goes."""
    if not FormulaRow.objects.filter(pk=formula_id).exists():
        raise NotFoundError(f"There is no formula {formula_id} in this kitchen.")
    # A new row for a new picture: an address that was cached never shows another one.
    PhotoRow.objects.filter(formula__id=formula_id, place=place).delete()
    row = PhotoRow.objects.create(
        formula_id=formula_id, place=place, place_text=place_text, caption=caption,
        taken_of=taken_of, width=size[0], height=size[1], jpeg=jpeg, recorded_at=recorded_at,
    )  # fmt: skip
    return int(row.pk)


def photo_row_remove(*, row_id: int) -> None:
    """Delete one photo."""
    PhotoRow.objects.filter(pk=photo_row(row_id=row_id).id).delete()


def _missing(row_id: int) -> NotFoundError:
    return NotFoundError(
        f"There is no photo {row_id} in this kitchen.",
        hint="It may have been deleted, or another one stands in its place.",
    )
