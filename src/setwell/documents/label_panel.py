"""The nutrition panel of a label in words, in the order that the market prescribes."""

from collections.abc import Iterator
from dataclasses import dataclass

from setwell.documents.amounts import estimate_text, range_text
from setwell.engine.labels.panel_results import (
    EuPanel,
    Form,
    PanelCell,
    PanelColumn,
    PanelRow,
    UsPanel,
)
from setwell.provenance import Estimate, Evidence


@dataclass(frozen=True, slots=True)
class PanelText:
    """One amount as printed, and its share of a day where the row has one."""

    amount: str
    percent: str = ""
    is_unknown: bool = False


@dataclass(frozen=True, slots=True)
class PanelLine:
    """One line of a panel; `cells` stand in the order of the columns.

    `name` is how the line opens when its amount stands in the name, as in "Includes 10 g Added
    Sugars"; it is empty otherwise.
    """

    key: str
    label: str
    indent: int
    is_strong: bool
    cells: tuple[PanelText, ...]
    name: str = ""


@dataclass(frozen=True, slots=True)
class PanelFigure:
    """One number before rounding, with what is printed of it and where it comes from."""

    label: str
    column: str
    printed: str
    value: str
    range: str
    grade: str
    estimate: Estimate
    evidence: Evidence
    also_allowed: str = ""
    unknown_in: tuple[str, ...] = ()
    tolerance: str = ""
    is_wide: bool = False
    remark: str = ""


def panel_text(cell: PanelCell) -> PanelText:
    """Return one amount as printed."""
    is_unknown = cell.printed.form is Form.UNKNOWN
    percent = "" if cell.share is None or is_unknown else cell.share.text
    return PanelText(cell.printed.text, percent, is_unknown)


def panel_figures(panel: UsPanel | EuPanel) -> tuple[PanelFigure, ...]:
    """Return every number of a panel before rounding, row by row."""
    return tuple(figure for row in panel.rows for figure in _figures(row, panel.columns))


def _figures(row: PanelRow, columns: tuple[PanelColumn, ...]) -> Iterator[PanelFigure]:
    tolerance = row.tolerance
    for column, cell in zip(columns, row.cells, strict=True):
        yield PanelFigure(
            label=row.label,
            column=column.heading,
            printed=cell.printed.text,
            value=estimate_text(cell.estimate),
            range=range_text(cell.estimate),
            grade=cell.estimate.grade.value,
            estimate=cell.estimate,
            evidence=cell.estimate.evidence,
            also_allowed=cell.printed.also_allowed,
            unknown_in=row.unknown_in,
            tolerance="" if tolerance is None else tolerance.text,
            is_wide=tolerance is not None and tolerance.is_wide,
            remark=row.remark,
        )
