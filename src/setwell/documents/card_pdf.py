"""The card as PDF."""

from base64 import b64encode
from collections.abc import Mapping
from dataclasses import asdict
from typing import Literal, get_args

from setwell.documents.card import Card, CardPhoto
from setwell.documents.pages_pdf import Layout, pages_pdf

Paper = Literal["A4", "A5", "Letter", "Phone"]
PAPERS: tuple[str, ...] = get_args(Paper)

_LAYOUT = Layout(
    "card.typ", "card", "card", PAPERS, "Print it from the browser, or use the text form."
)


def card_pdf(
    card: Card,
    *,
    paper: Paper = "A5",
    pictures: Mapping[int, bytes] | None = None,
    computer_fonts: bool = True,
) -> bytes:
    """Return the card as one PDF file.

    `pictures` are the JPEG files of its photos by id; a photo without one leaves its place
    empty. "Phone" is one narrow column. What no typeface has is printed as a box and named;
    `computer_fonts` lets typefaces of this computer help first.
    """
    photos = [photo for photo in (card.photo, *(step.photo for step in card.steps)) if photo]
    drawn = {
        str(photo.id): _as_svg(photo, pictures[photo.id])
        for photo in photos
        if pictures and photo.id in pictures
    }
    content = {
        **asdict(card),
        "short_hash": card.short_hash,
        "must_stop": card.must_stop,
        "qr": card.qr,
        "pictures": drawn,
    }
    return pages_pdf(_LAYOUT, content, paper=paper, computer_fonts=computer_fonts)


def _as_svg(photo: CardPhoto, jpeg: bytes) -> str:
    """Return a photo as SVG: the compiler takes pictures from text only."""
    data = b64encode(jpeg).decode("ascii")
    size = f'width="{photo.width}" height="{photo.height}"'
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} viewBox="0 0 {photo.width} '
        f'{photo.height}"><image {size} href="data:image/jpeg;base64,{data}"/></svg>'
    )
