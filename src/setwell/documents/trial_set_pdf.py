"""The sheet of a trial set as PDF."""

from dataclasses import asdict
from typing import Literal, get_args

from setwell.documents.pages_pdf import Layout, pages_pdf
from setwell.documents.trial_set import TrialSheet

TrialPaper = Literal["A4", "Letter"]
TRIAL_PAPERS: tuple[str, ...] = get_args(TrialPaper)

_LAYOUT = Layout(
    "trial_set.typ", "sheet", "trial sheet", TRIAL_PAPERS, "Print it from the browser."
)


def trial_set_pdf(sheet: TrialSheet, *, paper: TrialPaper = "A4") -> bytes:
    """Return the sheet as one PDF file; what its typefaces lack is printed as boxes."""
    return pages_pdf(_LAYOUT, asdict(sheet), paper=paper)
