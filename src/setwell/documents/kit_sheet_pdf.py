"""The packing sheet of dry kits as PDF, with a label for every kit."""

from dataclasses import asdict
from typing import Literal, get_args

from setwell.documents.kit_sheet import KitSheet
from setwell.documents.pages_pdf import Layout, pages_pdf

KitPaper = Literal["A4", "Letter"]
KIT_PAPERS: tuple[str, ...] = get_args(KitPaper)

_LAYOUT = Layout("kit_sheet.typ", "kit", "packing sheet", KIT_PAPERS, "Print it from the browser.")


def kit_sheet_pdf(sheet: KitSheet, *, paper: KitPaper = "A4") -> bytes:
    """Return the sheet and its labels as one PDF file."""
    return pages_pdf(_LAYOUT, asdict(sheet), paper=paper)
