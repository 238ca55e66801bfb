"""The card as PDF, set by an embedded compiler with embedded typefaces."""

import json
import re
from dataclasses import asdict
from importlib.resources import files
from typing import Any, Literal, get_args

import typst

from setwell.documents.card import Card
from setwell.errors import InputError, ModelError

Paper = Literal["A4", "A5", "Letter"]
PAPERS: tuple[str, ...] = get_args(Paper)

_PAPER_NAMES = {"A4": "a4", "A5": "a5", "Letter": "us-letter"}
# Control characters print nothing and only upset the compiler; line ends stay.
_CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f]")


def card_pdf(card: Card, *, paper: Paper = "A5") -> bytes:
    """Return the card as one PDF file.

    The first try makes an accessible file (PDF/UA-1). That standard refuses characters the
    embedded typefaces lack, such as Chinese or an emoji; the second try then prints boxes in
    their place and the card says so.
    """
    if paper not in _PAPER_NAMES:
        raise InputError(
            f"{paper!r} is not a paper size for cards; choose {', '.join(PAPERS)}.", field="paper"
        )
    try:
        return _compile(card, paper=paper, missing_glyphs=False)
    except typst.TypstError:
        return _compile_with_boxes(card, paper=paper)


def _compile_with_boxes(card: Card, *, paper: Paper) -> bytes:
    try:
        return _compile(card, paper=paper, missing_glyphs=True)
    except typst.TypstError as error:
        raise ModelError(
            f"The card could not be laid out as PDF ({error.message}).",
            hint="Print it from the browser, or use the text form.",
        ) from error


def _compile(card: Card, *, paper: Paper, missing_glyphs: bool) -> bytes:
    inputs = {
        "card": json.dumps({**_payload(card), "missing_glyphs": missing_glyphs}),
        "paper": _PAPER_NAMES[paper],
    }
    made: bytes = typst.compile(
        files("setwell.documents").joinpath("card.typ").read_bytes(),
        format="pdf",
        sys_inputs=inputs,
        ignore_system_fonts=True,
        pdf_standards=None if missing_glyphs else "ua-1",
        timestamp=0,
    )
    return made


def _payload(card: Card) -> dict[str, Any]:
    content = {**asdict(card), "short_hash": card.short_hash, "must_stop": card.must_stop}
    cleaned: dict[str, Any] = printable(content)
    return cleaned


def printable(value: Any) -> Any:  # noqa: ANN401 - any JSON value
    """Return content with its control characters replaced, which only upset the compiler."""
    if isinstance(value, str):
        return _CONTROL.sub(" ", value)
    if isinstance(value, dict):
        return {key: printable(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [printable(item) for item in value]
    return value
