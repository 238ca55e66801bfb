"""The bench sheet as PDF, set by the embedded compiler that sets the cards."""

import json
from dataclasses import asdict
from importlib.resources import files
from typing import Literal, get_args

import typst

from setwell.documents.bench_sheet import BenchSheet
from setwell.documents.card_pdf import printable
from setwell.errors import InputError, ModelError

SheetPaper = Literal["A4", "Letter"]
SHEET_PAPERS: tuple[str, ...] = get_args(SheetPaper)

_PAPER_NAMES = {"A4": "a4", "Letter": "us-letter"}


def bench_sheet_pdf(sheet: BenchSheet, *, paper: SheetPaper = "A4") -> bytes:
    """Return the sheet as one PDF file.

    The first try makes an accessible file (PDF/UA-1); with characters the embedded typefaces
    lack the second one prints boxes, and the sheet says so.
    """
    if paper not in _PAPER_NAMES:
        raise InputError(
            f"{paper!r} is not a paper size for bench sheets; choose {', '.join(SHEET_PAPERS)}.",
            field="paper",
        )
    try:
        return _compile(sheet, paper=paper, missing_glyphs=False)
    except typst.TypstError:
        return _compile_with_boxes(sheet, paper=paper)


def _compile_with_boxes(sheet: BenchSheet, *, paper: SheetPaper) -> bytes:
    try:
        return _compile(sheet, paper=paper, missing_glyphs=True)
    except typst.TypstError as error:
        raise ModelError(
            f"The bench sheet could not be laid out as PDF ({error.message}).",
            hint="Print it from the browser.",
        ) from error


def _compile(sheet: BenchSheet, *, paper: SheetPaper, missing_glyphs: bool) -> bytes:
    content = {**asdict(sheet), "missing_glyphs": missing_glyphs}
    made: bytes = typst.compile(
        files("setwell.documents").joinpath("bench_sheet.typ").read_bytes(),
        format="pdf",
        sys_inputs={"sheet": json.dumps(printable(content)), "paper": _PAPER_NAMES[paper]},
        ignore_system_fonts=True,
        pdf_standards=None if missing_glyphs else "ua-1",
        timestamp=0,
    )
    return made
