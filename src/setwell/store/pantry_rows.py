"""The kitchen's own things, between database rows and domain documents."""

import datetime as dt
from collections.abc import Iterable
from typing import Generic, TypeVar

from django.db import IntegrityError
from django.db.models import QuerySet

from setwell.domain.document import Document
from setwell.errors import ConflictError, NotFoundError
from setwell.store.entities import TABLES, Entity
from setwell.store.name_key import name_key
from setwell.store.rows import ShelfRow

D = TypeVar("D", bound=Document)

# SQLite takes a limited number of values in one statement.
ROWS_PER_STATEMENT = 500


class Shelf(Generic[D]):
    """All things of one kind."""

    def __init__(self, entity: Entity, document: type[D]) -> None:
        self.entity = entity
        self._document = document
        self._table = TABLES[entity]

    def all(self) -> tuple[tuple[int, D], ...]:
        """Return ids and documents in the order of their names."""
        rows = self._rows().order_by("name_key")
        return tuple((row.pk, self._read(row)) for row in rows)

    def documents(self) -> tuple[D, ...]:
        """Return the documents in the order of their names."""
        return tuple(document for _, document in self.all())

    def get(self, row_id: int) -> D:
        """Return one document."""
        row = self._rows().filter(pk=row_id).first()
        if row is None:
            raise NotFoundError(f"There is no {self.entity.value} {row_id} in this kitchen.")
        return self._read(row)

    def by_name(self) -> dict[str, D]:
        """Return the documents by the form of their name that is compared."""
        return {row.name_key: self._read(row) for row in self._rows()}

    def name_keys(self) -> frozenset[str]:
        """Return the names on the shelf, in the form that is compared."""
        return frozenset(self._rows().values_list("name_key", flat=True))

    def put(self, document: D, *, row_id: int | None, saved_at: dt.datetime) -> int:
        """Add a document, or replace the one with this id; return its id."""
        name = self._table.name_of(document)
        if row_id is not None:
            self.get(row_id)
        row = self._row(document, saved_at)
        row.pk = row_id
        try:
            row.save(force_insert=row_id is None, force_update=row_id is not None)
        except IntegrityError:
            raise ConflictError(
                f"There already is a {self.entity.value} called “{name}”.",
                hint=self._table.taken_hint,
            ) from None
        return int(row.pk)

    def put_all(self, documents: Iterable[D], *, saved_at: dt.datetime) -> None:
        """Add documents, replacing those of the same name."""
        self._rows().bulk_create(
            [self._row(document, saved_at) for document in documents],
            batch_size=ROWS_PER_STATEMENT,
            update_conflicts=True,
            unique_fields=["name_key"],
            update_fields=["name", "document", "updated_at"],
        )

    def remove(self, row_id: int) -> None:
        """Take one thing off the shelf."""
        self.get(row_id)
        self._rows().filter(pk=row_id).delete()

    def name_of(self, document: D) -> str:
        """Return the name by which a document is unique."""
        return self._table.name_of(document)

    def _rows(self) -> QuerySet[ShelfRow]:
        return self._table.row._default_manager.all()

    def _row(self, document: D, saved_at: dt.datetime) -> ShelfRow:
        name = self._table.name_of(document)
        return self._table.row(
            name=name,
            name_key=name_key(name),
            document=document.canonical_json(),
            updated_at=saved_at,
        )

    def _read(self, row: ShelfRow) -> D:
        return self._document.model_validate_json(row.document)
