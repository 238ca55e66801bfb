"""The panel of the US in words, laid out as 21 CFR 101.9(d) has it."""

from dataclasses import dataclass

from setwell.documents.label_panel import PanelLine, panel_text
from setwell.engine.labels.panel_results import ContainerServings, PanelRow, UsPanel

TITLE = "Nutrition Facts"
AMOUNT_PER = "Amount per serving"
DAILY_VALUE = "% Daily Value*"
# The star of the column head leads to the footnote.
_STAR = "*"
_CALORIES = "calories"
_ADDED = "added_sugars"
# Printed bold: what is not a part of the line above, 21 CFR 101.9(d)(1)(iv).
_BELOW_THE_BAR = frozenset({"vitamin_d", "calcium", "iron", "potassium"})


@dataclass(frozen=True, slots=True)
class UsPanelText:
    """The panel as printed: lines above the heavy bar, and the minerals below it."""

    title: str
    servings: str
    is_container_known: bool
    serving_size: str
    amount_per: str
    columns: tuple[str, ...]
    calories: PanelLine
    daily_value_head: str
    lines: tuple[PanelLine, ...]
    minerals: tuple[PanelLine, ...]
    sentence: str
    footnote: str
    is_short: bool


def us_panel_text(panel: UsPanel, *, is_short: bool = False) -> UsPanelText:
    """Return the panel in words; `is_short` gives the simplified form where it is allowed."""
    is_short = is_short and panel.simplified.is_allowed
    rows = [row for row in panel.rows if not is_short or row.key in panel.simplified.kept]
    lines = tuple(_line(row) for row in rows if row.key != _CALORIES)
    has_shares = any(cell.percent for line in lines for cell in line.cells)
    calories = panel.row(_CALORIES) or panel.rows[0]
    return UsPanelText(
        title=TITLE,
        servings=_servings(panel.container),
        is_container_known=panel.container is not None,
        serving_size=panel.serving.text,
        amount_per=AMOUNT_PER if len(panel.columns) == 1 else "",
        columns=tuple(_capital(column.heading) for column in panel.columns),
        calories=_line(calories),
        daily_value_head=DAILY_VALUE if has_shares else "",
        lines=tuple(line for line in lines if line.key not in _BELOW_THE_BAR),
        minerals=tuple(line for line in lines if line.key in _BELOW_THE_BAR),
        sentence=panel.simplified.sentence if is_short else "",
        footnote=_footnote(panel.footnote) if has_shares else "",
        is_short=is_short,
    )


def _servings(container: ContainerServings | None) -> str:
    if container is None:
        return "servings per container: not given"
    word = "serving" if container.text == "1" else "servings"
    return f"{container.text} {word} per container"


def _footnote(text: str) -> str:
    return text if text.startswith(_STAR) else f"{_STAR} {text}"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _line(row: PanelRow) -> PanelLine:
    cells = tuple(panel_text(cell) for cell in row.cells)
    is_added = row.key == _ADDED
    says_amount = is_added and len(cells) == 1 and not cells[0].is_unknown
    return PanelLine(
        key=row.key,
        label=f"Incl. {row.label}" if is_added and len(cells) > 1 else row.label,
        indent=row.indent,
        is_strong=row.indent == 0 and row.key not in _BELOW_THE_BAR,
        cells=cells,
        name=f"Includes {cells[0].amount} {row.label}" if says_amount else "",
    )
