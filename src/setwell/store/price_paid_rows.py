"""What materials cost over time, between database rows and documents."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

from setwell.domain.buying import Bought
from setwell.store.name_key import name_key
from setwell.store.rows import PricePaidRow


@dataclass(frozen=True, slots=True)
class PricePaid:
    """A price as it was from a moment on; no document: it was taken away."""

    shelf: str
    name: str
    currency: str
    document: Bought | None
    recorded_at: dt.datetime


def price_paid_add(paid: PricePaid) -> None:
    """Write a price down; it stays."""
    PricePaidRow.objects.create(
        shelf=paid.shelf,
        name=paid.name,
        name_key=name_key(paid.name),
        currency=paid.currency,
        document="" if paid.document is None else paid.document.terms().canonical_json(),
        recorded_at=paid.recorded_at,
    )


def price_paid_newest(*, shelf: str, name: str) -> PricePaid | None:
    """Return the price that was written down last."""
    row = PricePaidRow.objects.filter(shelf=shelf, name_key=name_key(name)).order_by("-pk").first()
    return None if row is None else _paid(row)


def price_paid_rows(sources: Iterable[tuple[str, str]]) -> tuple[PricePaid, ...]:
    """Return the prices of these shelves and names, the oldest first."""
    wanted = {(shelf, name_key(name)) for shelf, name in sources}
    keys = {key for _, key in wanted}
    rows = PricePaidRow.objects.filter(name_key__in=keys).order_by("recorded_at", "pk")
    return tuple(_paid(row) for row in rows if (row.shelf, row.name_key) in wanted)


def prices_paid() -> tuple[PricePaid, ...]:
    """Return every price that was written down, the oldest first."""
    return tuple(_paid(row) for row in PricePaidRow.objects.order_by("recorded_at", "pk"))


def _paid(row: PricePaidRow) -> PricePaid:
    document = Bought.model_validate_json(row.document) if row.document else None
    return PricePaid(row.shelf, row.name, row.currency, document, row.recorded_at)
