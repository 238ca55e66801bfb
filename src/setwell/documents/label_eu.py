"""The nutrition declaration of the EU in words, in the order of Annex XV of 1169/2011."""

from dataclasses import dataclass, replace

from setwell.documents.label_panel import PanelLine, PanelText, panel_text
from setwell.engine.labels.panel_results import EuPanel, PanelRow

TITLE = "Nutrition declaration"
_KILOJOULE, _KILOCALORIE = "energy_kj", "energy_kcal"
# The star of a percentage leads to the sentence below the table.
_STAR = "*"


@dataclass(frozen=True, slots=True)
class EuPanelText:
    """The table as printed; `sentence` tells what the percentages in it are of."""

    title: str
    columns: tuple[str, ...]
    lines: tuple[PanelLine, ...]
    sentence: str


def eu_panel_text(panel: EuPanel) -> EuPanelText:
    """Return the table in words: energy in one line, then fat to salt."""
    lines = tuple(_lines(panel.rows))
    has_share = any(cell.percent for line in lines for cell in line.cells)
    return EuPanelText(
        title=TITLE,
        columns=tuple(column.heading for column in panel.columns),
        lines=lines,
        sentence=f"{_STAR} {panel.intake_sentence}" if has_share else "",
    )


def _lines(rows: tuple[PanelRow, ...]) -> list[PanelLine]:
    by_key = {row.key: row for row in rows}
    found = []
    for row in rows:
        if row.key == _KILOJOULE and _KILOCALORIE in by_key:
            found.append(_energy(row, by_key[_KILOCALORIE]))
        elif row.key != _KILOCALORIE or _KILOJOULE not in by_key:
            found.append(_line(row))
    return found


def _line(row: PanelRow) -> PanelLine:
    cells = tuple(_starred(panel_text(cell)) for cell in row.cells)
    return PanelLine(row.key, row.label, row.indent, is_strong=row.indent == 0, cells=cells)


def _starred(text: PanelText) -> PanelText:
    return replace(text, percent=f"{text.percent}{_STAR}") if text.percent else text


def _energy(joules: PanelRow, calories: PanelRow) -> PanelLine:
    """Return both units of energy as one line, kJ first."""
    pairs = zip(_line(joules).cells, _line(calories).cells, strict=True)
    cells = tuple(_both(first, second) for first, second in pairs)
    return PanelLine("energy", "Energy", 0, is_strong=True, cells=cells)


def _both(first: PanelText, second: PanelText) -> PanelText:
    is_unknown = first.is_unknown or second.is_unknown
    amount = first.amount if first.amount == second.amount else f"{first.amount} / {second.amount}"
    return PanelText(amount, first.percent or second.percent, is_unknown)
