"""A first trial set around a proposal, as a page and as a sheet to take to the bench."""

from setwell.documents.trial_set import trial_rows, trial_sheet_build
from setwell.documents.trial_set_pdf import TRIAL_PAPERS, TrialPaper, trial_set_pdf
from setwell.documents.trial_set_text import trial_set_text
from setwell.domain.brief import Brief
from setwell.engine.proposals.trials import (
    CUP_G,
    SCALE_G,
    CupAmount,
    StockMix,
    TrialCup,
    TrialSet,
    trial_set,
)
from setwell.services.csv_text import sheet_write
from setwell.services.proposals import proposal_find
from setwell.services.shelves import kitchen_read

__all__ = [
    "CUP_G",
    "SCALE_G",
    "TRIAL_PAPERS",
    "CupAmount",
    "StockMix",
    "TrialCup",
    "TrialPaper",
    "TrialSet",
    "trial_csv",
    "trial_pdf",
    "trial_set_for",
    "trial_text",
]


def trial_set_for(
    brief: Brief, code: str, *, cup_g: float = CUP_G, scale_g: float = SCALE_G, seed: int = 1
) -> TrialSet:
    """Return a first trial set around a proposal of a brief; `seed` draws order and codes.

    Raises NotFoundError where the brief has no such proposal any more, and InputError at `cup`,
    `scale` or the field of the brief.
    """
    asked, proposal = proposal_find(brief, code)
    return trial_set(
        proposal,
        brief,
        asked.base,
        seed=seed,
        cup_g=cup_g,
        scale_g=scale_g,
        corrections=asked.corrections,
    )


def trial_pdf(trials: TrialSet, *, paper: TrialPaper = "A4") -> bytes:
    """Return the sheet of a trial set as one PDF file."""
    sheet = trial_sheet_build(trials, kitchen_name=kitchen_read().name)
    return trial_set_pdf(sheet, paper=paper)


def trial_text(trials: TrialSet) -> str:
    """Return the sheet of a trial set as plain text."""
    return trial_set_text(trial_sheet_build(trials, kitchen_name=kitchen_read().name))


def trial_csv(trials: TrialSet) -> str:
    """Return a trial set as a table, one row for each cup, with room for what is measured."""
    return sheet_write(trial_rows(trials))
