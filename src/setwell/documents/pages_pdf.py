"""Pages set as PDF by an embedded compiler with embedded typefaces."""

import json
import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

import typst

from setwell.errors import InputError, ModelError
from setwell.units import unbroken

# Papers by the names of the compiler; "phone" is a column that a template sets by itself.
_PAPER_NAMES = {"A4": "a4", "A5": "a5", "Letter": "us-letter", "Phone": "phone"}
# How the compiler names a character that no typeface has.
_MISSING = re.compile(r"the text `\"(?P<text>.+?)\"` could not be displayed")
_ESCAPED = re.compile(r"\\u\{([0-9a-f]+)\}")
_BOX = "\u25a1"
# More names than these do not help on a page.
_NAMED_MOST = 12
# Control characters print nothing and only upset the compiler; line ends stay.
_CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f]")


@dataclass(frozen=True, slots=True)
class Layout:
    """One kind of page: its template, the name of what it prints, and its papers."""

    template: str
    key: str
    noun: str
    papers: tuple[str, ...]
    instead: str


def pages_pdf(
    layout: Layout,
    content: Mapping[str, Any],
    *,
    paper: str,
    computer_fonts: bool = True,
) -> bytes:
    """Return the content as one PDF file with its typefaces in it.

    Every try makes an accessible file (PDF/UA-1), which refuses characters without a glyph. The
    first has the shipped typefaces only, so that the file is the same everywhere. Where they
    lack a character, such as Chinese, the second takes typefaces of this computer too. What
    these lack as well stands as boxes, and the page says which characters they are.
    """
    if paper not in layout.papers:
        raise InputError(
            f"{paper!r} is not a paper size for {layout.noun}s; choose {', '.join(layout.papers)}.",
            field="paper",
        )
    told = _printable({**content, "missing_glyphs": False, "missing_names": ""})
    try:
        return _compile(layout, told, paper=paper)
    except typst.TypstError as error:
        missing = _missing_in(error)
    if computer_fonts:
        try:
            return _compile(layout, told, paper=paper, of_computer=True)
        except typst.TypstError as error:
            missing = _missing_in(error)
    return _with_boxes(layout, told, missing, paper=paper, computer_fonts=computer_fonts)


def _with_boxes(
    layout: Layout, told: dict[str, Any], missing: str, *, paper: str, computer_fonts: bool
) -> bytes:
    boxed = _replaced(told, str.maketrans(dict.fromkeys(missing, _BOX)))
    boxed |= {"missing_glyphs": True, "missing_names": characters_named(missing)}
    try:
        return _compile(layout, boxed, paper=paper, of_computer=computer_fonts)
    except typst.TypstError:
        pass
    try:
        return _compile(layout, boxed, paper=paper, of_computer=computer_fonts, is_tagged=False)
    except typst.TypstError as error:
        raise ModelError(
            f"The {layout.noun} could not be laid out as PDF ({error.message}).",
            hint=layout.instead,
        ) from error


def _missing_in(error: typst.TypstError) -> str:
    """Return the characters that an attempt failed for."""
    said = str(getattr(error, "diagnostic", "") or error)
    texts = (found["text"] for found in _MISSING.finditer(said))
    plain = "".join(_ESCAPED.sub(lambda code: chr(int(code[1], 16)), text) for text in texts)
    return "".join(dict.fromkeys(plain))


def characters_named(characters: str) -> str:
    """Return characters by number and name, for a page that cannot show them.

    >>> characters_named("\u0e04")
    'U+0E04 thai character kho khwai'
    """
    named = [
        f"U+{ord(one):04X} {unicodedata.name(one, '').lower()}".strip()
        for one in characters[:_NAMED_MOST]
    ]
    more = len(characters) - len(named)
    return "; ".join(named) + (f"; and {more} more" if more > 0 else "")


@cache
def _fonts(*, of_computer: bool) -> typst.Fonts:
    """Return the shipped typefaces, and those of this computer too; looked for once."""
    return typst.Fonts(include_system_fonts=of_computer, include_embedded_fonts=True)


def _compile(
    layout: Layout,
    told: dict[str, Any],
    *,
    paper: str,
    of_computer: bool = False,
    is_tagged: bool = True,
) -> bytes:
    made: bytes = typst.compile(
        files("setwell.documents").joinpath(layout.template).read_bytes(),
        format="pdf",
        font_paths=_fonts(of_computer=of_computer),
        ignore_system_fonts=True,
        sys_inputs={layout.key: json.dumps(told), "paper": _PAPER_NAMES[paper]},
        pdf_standards="ua-1" if is_tagged else None,
        timestamp=0,
    )
    return made


def _replaced(value: Any, table: Mapping[int, str]) -> Any:  # noqa: ANN401 - any JSON value
    if isinstance(value, str):
        return value.translate(table)
    if isinstance(value, dict):
        return {key: _replaced(item, table) for key, item in value.items()}
    return [_replaced(item, table) for item in value] if isinstance(value, list) else value


def _printable(value: Any) -> Any:  # noqa: ANN401 - any JSON value
    if isinstance(value, str):
        # A drawing is no sentence: its numbers stay as they are.
        return value if value.startswith("<svg") else unbroken(_CONTROL.sub(" ", value))
    if isinstance(value, dict):
        return {key: _printable(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [_printable(item) for item in value]
    return value
