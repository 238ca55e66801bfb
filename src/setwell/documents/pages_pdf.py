"""Pages set as PDF by an embedded compiler with embedded typefaces."""

import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from importlib.resources import files
from typing import Any

import typst

from setwell.errors import InputError, ModelError

_PAPER_NAMES = {"A4": "a4", "A5": "a5", "Letter": "us-letter"}
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


def pages_pdf(layout: Layout, content: Mapping[str, Any], *, paper: str) -> bytes:
    """Return the content as one PDF file.

    The first try makes an accessible file (PDF/UA-1). That standard refuses characters the
    embedded typefaces lack, such as Chinese or an emoji; the second try then prints boxes in
    their place and the page says so.
    """
    if paper not in layout.papers:
        raise InputError(
            f"{paper!r} is not a paper size for {layout.noun}s; choose {', '.join(layout.papers)}.",
            field="paper",
        )
    try:
        return _compile(layout, content, paper=paper, missing_glyphs=False)
    except typst.TypstError:
        return _compile_with_boxes(layout, content, paper=paper)


def _compile_with_boxes(layout: Layout, content: Mapping[str, Any], *, paper: str) -> bytes:
    try:
        return _compile(layout, content, paper=paper, missing_glyphs=True)
    except typst.TypstError as error:
        raise ModelError(
            f"The {layout.noun} could not be laid out as PDF ({error.message}).",
            hint=layout.instead,
        ) from error


def _compile(
    layout: Layout, content: Mapping[str, Any], *, paper: str, missing_glyphs: bool
) -> bytes:
    told = _printable({**content, "missing_glyphs": missing_glyphs})
    made: bytes = typst.compile(
        files("setwell.documents").joinpath(layout.template).read_bytes(),
        format="pdf",
        sys_inputs={layout.key: json.dumps(told), "paper": _PAPER_NAMES[paper]},
        ignore_system_fonts=True,
        pdf_standards=None if missing_glyphs else "ua-1",
        timestamp=0,
    )
    return made


def _printable(value: Any) -> Any:  # noqa: ANN401 - any JSON value
    if isinstance(value, str):
        return _CONTROL.sub(" ", value)
    if isinstance(value, dict):
        return {key: _printable(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [_printable(item) for item in value]
    return value
