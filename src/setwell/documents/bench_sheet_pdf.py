"""The bench sheet as PDF."""

from dataclasses import asdict
from typing import Literal, get_args

from setwell.documents.bench_sheet import BenchSheet
from setwell.documents.pages_pdf import Layout, pages_pdf

SheetPaper = Literal["A4", "Letter"]
SHEET_PAPERS: tuple[str, ...] = get_args(SheetPaper)

_LAYOUT = Layout(
    "bench_sheet.typ", "sheet", "bench sheet", SHEET_PAPERS, "Print it from the browser."
)


def bench_sheet_pdf(sheet: BenchSheet, *, paper: SheetPaper = "A4") -> bytes:
    """Return the sheet as one PDF file; what its typefaces lack is printed as boxes."""
    return pages_pdf(_LAYOUT, asdict(sheet), paper=paper)
