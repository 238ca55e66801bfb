"""The card as PDF."""

from dataclasses import asdict
from typing import Literal, get_args

from setwell.documents.card import Card
from setwell.documents.pages_pdf import Layout, pages_pdf

Paper = Literal["A4", "A5", "Letter"]
PAPERS: tuple[str, ...] = get_args(Paper)

_LAYOUT = Layout(
    "card.typ", "card", "card", PAPERS, "Print it from the browser, or use the text form."
)


def card_pdf(card: Card, *, paper: Paper = "A5") -> bytes:
    """Return the card as one PDF file; what its typefaces lack is printed as boxes."""
    content = {**asdict(card), "short_hash": card.short_hash, "must_stop": card.must_stop}
    return pages_pdf(_LAYOUT, content, paper=paper)
