"""Recipe cards: for the screen, as text, and as PDF."""

from collections.abc import Mapping
from urllib.parse import urlsplit

from setwell.documents.card import Card, CardKind, card_build
from setwell.documents.card_pdf import Paper
from setwell.documents.card_pdf import card_pdf as _card_pdf
from setwell.documents.card_text import card_text as _card_text
from setwell.documents.lot_box import LEAST as STRENGTH_LEAST
from setwell.documents.lot_box import MOST as STRENGTH_MOST
from setwell.documents.qr_code import ADDRESS_MOST
from setwell.domain.formula import Formula
from setwell.engine.scaled_batch import BatchYield, assessment_at
from setwell.errors import InputError
from setwell.services.assessment import formula_assess
from setwell.services.label_kept import traces_kept
from setwell.services.photos import photos_by_place, photos_of_card
from setwell.services.scaling import CardBatch, batch_scaled
from setwell.services.shelves import kitchen_read

__all__ = [
    "STRENGTH_LEAST",
    "STRENGTH_MOST",
    "BatchYield",
    "Card",
    "CardBatch",
    "CardKind",
    "Paper",
    "address_checked",
    "card_get",
    "card_pdf",
    "card_text",
    "is_this_computer",
]

_DRAFT = "not saved"
_HERE = frozenset({"localhost", "127.0.0.1", "::1"})


def card_get(
    *,
    formula: Formula,
    number: int | None = None,
    formula_id: int | None = None,
    kind: CardKind = CardKind.PRO,
    address: str = "",
    strengths: Mapping[str, float] | None = None,
    batch: CardBatch | None = None,
) -> Card:
    """Return the card of a formula; `number` is its version, None while it is not saved.

    With `formula_id` the readings and photos of that formula count on the card. `address` is
    where the card is found and becomes its QR code; `strengths` are lots at hand, as times the
    usual strength, by the key of their agent; `batch` is the batch to weigh, as written without.
    """
    label = _DRAFT if number is None else f"version {number}"
    assessment = formula_assess(
        formula=formula, formula_id=formula_id, number=number,
        batch_g=batch.grams if batch else None,
    )  # fmt: skip
    scaled = batch_scaled(formula=formula, batch=batch) if batch else None
    if scaled is not None and batch is not None:
        assessment = assessment_at(assessment, scaled, batch.makes)
    return card_build(
        assessment,
        version_label=label,
        kitchen=kitchen_read(),
        kind=kind,
        address=address_checked(address) if address else "",
        photos={} if formula_id is None else photos_by_place(formula_id=formula_id),
        strengths=strengths,
        traces=traces_kept(formula_id=formula_id, number=number),
        scaled=scaled,
    )


def address_checked(address: str) -> str:
    """Return an address for a QR code; only pages of a web site are taken."""
    given = address.strip()
    problem = ""
    try:
        parts = urlsplit(given)
        if parts.scheme not in {"http", "https"} or not parts.hostname:
            problem = "does not begin with http:// or https:// and a name"
    except ValueError:
        problem = "is not an address"
    if any(letter.isspace() or not letter.isprintable() for letter in given):
        problem = "holds a space"
    if len(given) > ADDRESS_MOST:
        problem = f"has {len(given)} characters; at most {ADDRESS_MOST} make a code that reads well"
    if problem:
        raise InputError(
            f"The address “{given[:60]}” {problem}.",
            field="address",
            hint="Write it as the browser shows it, such as https://kitchen.example/cards/1/.",
        )
    return given


def is_this_computer(address: str) -> bool:
    """Say whether an address leads nowhere from a phone."""
    return (urlsplit(address).hostname or "") in _HERE


def card_pdf(*, card: Card, paper: Paper = "A5") -> bytes:
    """Return the card as one PDF file, with its photos."""
    photos = (card.photo, *(step.photo for step in card.steps))
    pictures = photos_of_card(photos=tuple(photo for photo in photos if photo is not None))
    return _card_pdf(card, paper=paper, pictures=pictures)


def card_text(*, card: Card) -> str:
    """Return the card as plain text."""
    return _card_text(card)
