"""What materials cost over time: written down with every change of a price."""

from setwell.domain.buying import Bought
from setwell.domain.document import Document
from setwell.services.clock import now
from setwell.services.shelves import kitchen_read
from setwell.store.entities import TABLES, Entity
from setwell.store.price_paid_rows import PricePaid, price_paid_add, price_paid_newest


def price_note(entity: Entity, document: Document, *, is_gone: bool = False) -> None:
    """Write the price of a pantry document down if it differs from the last one known.

    Belongs into the transaction that saves or deletes the document.
    """
    if not isinstance(document, Bought):
        return
    name = TABLES[entity].name_of(document)
    last = price_paid_newest(shelf=entity.value, name=name)
    before = None if last is None else last.document
    currency = kitchen_read().currency
    told = None if is_gone or document.per_kg is None else document.terms()
    same_money = last is None or last.currency == currency
    if told == before and same_money:
        return
    price_paid_add(PricePaid(entity.value, name, currency, told, now()))
