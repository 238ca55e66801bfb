"""Recipe cards: for the screen, as text, and as PDF."""

from setwell.documents.card import Card, card_build
from setwell.documents.card_pdf import Paper
from setwell.documents.card_pdf import card_pdf as _card_pdf
from setwell.documents.card_text import card_text as _card_text
from setwell.domain.formula import Formula
from setwell.services.assessment import formula_assess
from setwell.services.shelves import kitchen_read

__all__ = ["Card", "Paper", "card_get", "card_pdf", "card_text"]

_DRAFT = "not saved"


def card_get(*, formula: Formula, number: int | None = None, formula_id: int | None = None) -> Card:
    """Return the card of a formula; `number` is its version, None while it is not saved.

    With `formula_id` the readings of that formula count on the card.
    """
    label = _DRAFT if number is None else f"version {number}"
    assessment = formula_assess(formula=formula, formula_id=formula_id, number=number)
    return card_build(assessment, version_label=label, kitchen=kitchen_read())


def card_pdf(*, card: Card, paper: Paper = "A5") -> bytes:
    """Return the card as one PDF file."""
    return _card_pdf(card, paper=paper)


def card_text(*, card: Card) -> str:
    """Return the card as plain text."""
    return _card_text(card)
