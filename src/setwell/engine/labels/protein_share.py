"""The percentage of protein on a US panel: only of what the body can use."""

from dataclasses import replace

from setwell.engine.labels.panel_results import DailyShare, Form, PanelCell, PanelRow
from setwell.engine.labels.printing import amount_print
from setwell.errors import InputError
from setwell.provenance import Citation, Evidence, Grade
from setwell.tables.labels.panel_tables import daily_amounts

_PROTEIN = "protein"
_CORRECTED: Evidence = (
    Citation("cfr_21_101_9", "101.9(c)(7)(i) to (iii), recalled", Grade.UNVERIFIED),
    Citation("this_kitchen", "protein score of an analysis", Grade.MEASURED),
)


def with_protein_share(row: PanelRow, score: float) -> PanelRow:
    """Return the line of protein with its share of a day; other lines stay as they are.

    The share is of protein times its digestibility-corrected amino acid score, 0 to 1.
    """
    if not 0.0 < score <= 1.0:
        raise InputError(
            f"The protein score is {score:g}; give a number above 0 and up to 1.",
            field="protein_score",
        )
    if row.key != _PROTEIN:
        return row
    return replace(row, cells=tuple(_shared(cell, score) for cell in row.cells))


def _shared(cell: PanelCell, score: float) -> PanelCell:
    if cell.printed.form is Form.UNKNOWN:
        return cell
    daily = daily_amounts("us")[_PROTEIN]
    percent = 100.0 * cell.estimate.value * score / daily.amount
    shown = 0.0 if cell.printed.form is Form.ZERO else percent
    text = amount_print("us", "share_plain", shown).text
    evidence = (daily.citation, *_CORRECTED)
    return replace(
        cell, share=DailyShare(percent, text, f"{daily.amount:g} {daily.unit}", evidence)
    )
