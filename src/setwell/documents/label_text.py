"""The draft of a label as plain text for a terminal or a message, 80 columns wide."""

import textwrap
from collections.abc import Iterable, Iterator

from setwell.documents.label import Label
from setwell.documents.label_eu import EuPanelText
from setwell.documents.label_panel import PanelFigure, PanelLine
from setwell.documents.label_statement import LabelPoint
from setwell.documents.label_us import UsPanelText

WIDTH = 80
_PANEL = 46
_QUANTITIES = "Quantities that may have to stand beside a name"
_ADDITIVES, _CHECK, _BLOCKS = "Additives", "To check", "What stands against final"


def label_text(label: Label, *, has_figures: bool = False) -> str:
    """Return the whole label as text; `has_figures` adds the numbers before rounding."""
    listed = (
        ("Allergens", label.allergens),
        ("Sulfites and gluten", label.thresholds),
        (_QUANTITIES, tuple(one.text for one in label.quantities)),
        ("Diets, by the ingredients", label.diets),
        ("Notes", label.notes),
    )
    blocks = [_head(label), *_panel(label), _statement(label)]
    blocks += [_points(_BLOCKS, label.blocks), _points(_ADDITIVES, label.additives)]
    blocks += [_points(_CHECK, label.findings), *(_listed(*pair) for pair in listed)]
    blocks += [_figures(label.figures) if has_figures else "", _foot(label)]
    return "\n\n".join(block for block in blocks if block) + "\n"


def _head(label: Label) -> str:
    about = " · ".join(
        part
        for part in (label.market_name, label.category, label.version_label, label.short_hash)
        if part
    )
    rows = [*_hanging("", label.title.upper()), *_hanging("", about)]
    return "\n".join([*rows, *_hanging("", f"{label.banner}. {label.state}"), "=" * WIDTH])


def _panel(label: Label) -> Iterator[str]:
    if label.us is not None:
        yield "\n".join(_us(label.us))
    if label.eu is not None:
        yield "\n".join(_eu(label.eu))


def _us(panel: UsPanelText) -> Iterator[str]:
    yield panel.title
    yield panel.servings
    yield _spread("Serving size", panel.serving_size)
    yield from _column_heads(panel.columns) if len(panel.columns) > 1 else ()
    yield "=" * _PANEL
    yield from _us_line(panel.calories)
    yield _spread("", panel.daily_value_head)
    for line in panel.lines:
        yield from _us_line(line)
    if panel.minerals:
        yield "=" * _PANEL
    for line in panel.minerals:
        yield from _us_line(line)
    for note in (panel.sentence, panel.footnote):
        yield from _hanging("", note, width=_PANEL) if note else ()


def _us_line(line: PanelLine) -> Iterator[str]:
    indent = "  " * line.indent
    if len(line.cells) == 1:
        cell = line.cells[0]
        yield _spread(f"{indent}{line.name or f'{line.label} {cell.amount}'}", cell.percent)
        return
    cells = "".join(f"{cell.amount:>18}{cell.percent:>7}" for cell in line.cells)
    yield f"{indent + line.label:<26}{cells}".rstrip()


def _eu(panel: EuPanelText) -> Iterator[str]:
    yield panel.title
    yield from _column_heads(panel.columns)
    for line in panel.lines:
        cells = (_eu_cell(cell.amount, cell.percent) for cell in line.cells)
        yield f"{'  ' * line.indent + line.label:<26}" + "".join(f"{one:>25}" for one in cells)
    yield from _hanging("", panel.sentence) if panel.sentence else ()


def _eu_cell(amount: str, percent: str) -> str:
    return f"{amount} ({percent})" if percent else amount


def _column_heads(columns: tuple[str, ...]) -> Iterator[str]:
    yield f"{'':<26}" + "".join(f"{head:>25}" for head in columns)


def _spread(left: str, right: str) -> str:
    return f"{left:<{_PANEL - len(right)}}{right}".rstrip()


def _statement(label: Label) -> str:
    said = label.statement
    # A terminal has no bold: what has to stand out is in capitals.
    text = "".join(run.text.upper() if run.is_emphasized else run.text for run in said.runs)
    rows = _hanging("", text)
    for line in (*said.lines, *said.notes):
        rows += _hanging("", line)
    return "\n".join(rows)


def _points(title: str, points: tuple[LabelPoint, ...]) -> str:
    rows = [title] if points else []
    for point in points:
        rows += _hanging(f"  {point.severity.upper():<4} ", point_sentence(point))
    return "\n".join(rows)


def point_sentence(point: LabelPoint) -> str:
    """Return a point as one run of text."""
    answer = f" ({point.answer})" if point.answer else ""
    rule = f"[{point.rule}; {point.grade}]" if point.rule else ""
    head = f"{point.title.rstrip('.')}{answer}."
    return " ".join(part for part in (head, point.text, point.action, rule) if part)


def _listed(title: str, lines: Iterable[str]) -> str:
    rows = [row for line in lines for row in _hanging("  * ", line)]
    return "\n".join([title, *rows]) if rows else ""


def _figures(figures: tuple[PanelFigure, ...]) -> str:
    columns = dict.fromkeys(one.column for one in figures)
    return "\n\n".join("\n".join(_figure_rows(figures, column)) for column in columns)


def _figure_rows(figures: tuple[PanelFigure, ...], column: str) -> Iterator[str]:
    yield f"Before rounding, {column[:1].lower()}{column[1:]}"
    for one in figures:
        if one.column != column:
            continue
        numbers = f"{one.value:<18} {one.range:<17} {one.printed:<13} {one.grade}"
        yield f"{one.label[:18]:<18} {numbers}"
        yield from _hanging("  unknown in ", ", ".join(one.unknown_in)) if one.unknown_in else ()


def _foot(label: Label) -> str:
    rows = [*_hanging("", label.deferral), *_hanging("", label.remark)]
    return "\n".join(["-" * WIDTH, *rows])


def _hanging(lead: str, text: str, *, width: int = WIDTH) -> list[str]:
    rows = textwrap.wrap(text, width, initial_indent=lead, subsequent_indent=" " * len(lead))
    return rows or [lead.rstrip()]
