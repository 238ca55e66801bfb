"""Everything with rows and columns, as CSV files or as one workbook."""

import io
import math
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import islice

from openpyxl import Workbook
from openpyxl.cell import WriteOnlyCell
from openpyxl.cell.cell import ILLEGAL_CHARACTERS_RE
from openpyxl.styles import Font
from openpyxl.utils import get_column_letter

from setwell.errors import InputError
from setwell.services import exported_formulas as formulas
from setwell.services import exported_shelves as shelves
from setwell.services.csv_text import sheet_write
from setwell.services.exported_shelves import Cell, Rows
from setwell.services.lot_checks import lot_check_cells
from setwell.services.texture_readings import texture_reading_rows
from setwell.store.entities import Entity

# What a sheet of a workbook can hold.
_CELL_MOST, _ROWS_MOST = 32_767, 1_048_576
_WIDE, _USUAL = 48, 16
_NUMBER = re.compile(r"-?\d+(\.\d+)?")


@dataclass(frozen=True, slots=True)
class ExportTable:
    """One table: its key as a file name, its title, and its rows with the header first."""

    key: str
    title: str
    rows: Callable[[], Rows]


def _words(entity: Entity) -> str:
    """Return a shelf as the pantry page names it."""
    named = {Entity.FOOD: "own foods", Entity.AGENT: "own agents", Entity.READING: "pH readings",
             Entity.COOLER: "cold places"}  # fmt: skip
    return named.get(entity, f"{entity.value}s")


def _readings() -> Rows:
    yield from _numbered(texture_reading_rows())


def _lot_checks() -> Rows:
    yield from _numbered(lot_check_cells())


def _numbered(rows: Sequence[Sequence[str]]) -> Rows:
    """Yield rows with numbers as numbers, in the columns that can hold nothing else."""
    head, *rest = rows
    texts = {"title", "lots", "lot_code", "taken_by", "reason", "note", "values", "content_hash"}
    yield head
    for row in rest:
        yield [
            float(cell) if name not in texts and _NUMBER.fullmatch(cell) else cell
            for name, cell in zip(head, row, strict=True)
        ]


_TABLES = (
    ExportTable("versions", "Versions", formulas.version_rows),
    ExportTable("lines", "Ingredient lines", formulas.line_rows),
    ExportTable("steps", "Steps", formulas.step_rows),
    ExportTable("nutrition", "Nutrition per 100 g", formulas.nutrition_rows),
    ExportTable("figures", "Computed figures", formulas.figure_rows),
    ExportTable("costs", "Costs", formulas.cost_rows),
    ExportTable("allergens", "Allergens", formulas.allergen_rows),
    ExportTable("ph-of-versions", "pH of versions", formulas.acidity_reading_rows),
    ExportTable("texture-readings", "Texture readings", _readings),
    ExportTable("lot-checks", "Lot checks", _lot_checks),
    ExportTable("probe-logs", "Probe logs", formulas.probe_log_rows),
    ExportTable("published", "Published cards", formulas.publication_rows_told),
    ExportTable("price-history", "Prices written down", shelves.price_history_rows),
    ExportTable("agent-table", "Agents of the tables", shelves.agent_rows_told),
    ExportTable("food-table", "Foods of the tables", shelves.food_table_rows),
    ExportTable("sources", "Sources", shelves.source_rows),
    *(
        ExportTable(
            f"pantry-{entity.value}",
            f"Pantry, {_words(entity)}",
            partial(shelves.shelf_rows, entity),
        )
        for entity in Entity
    ),
)


def table_list() -> tuple[ExportTable, ...]:
    """Return every table that can be exported."""
    return _TABLES


def table_csv(*, key: str) -> str:
    """Return one table as CSV text; cells a spreadsheet would run are made harmless."""
    return sheet_write([[_text(cell) for cell in row] for row in _table(key).rows()])


def tables_xlsx(*, keys: Sequence[str] = ()) -> bytes:
    """Return tables as a workbook with one sheet each; without keys all of them."""
    book = Workbook(write_only=True)
    for table in [_table(key) for key in keys] or _TABLES:
        _sheet_add(book, table)
    file = io.BytesIO()
    book.save(file)
    return file.getvalue()


def _table(key: str) -> ExportTable:
    found = next((table for table in _TABLES if table.key == key), None)
    if found is None:
        known = ", ".join(table.key for table in _TABLES)
        raise InputError(f"There is no table “{key[:40]}”; choose {known}.", field="table")
    return found


def _sheet_add(book: Workbook, table: ExportTable) -> None:
    sheet = book.create_sheet(table.title[:31])
    rows = table.rows()
    head = [str(cell) for cell in next(rows)]
    sheet.freeze_panes = "A2"
    for number, name in enumerate(head, start=1):
        is_wide = name in {"title", "text", "note", "statement", "sources", "name", "changes"}
        sheet.column_dimensions[get_column_letter(number)].width = _WIDE if is_wide else _USUAL
    sheet.append([_cell(sheet, name, bold=True) for name in head])
    for row in islice(rows, _ROWS_MOST - 1):
        sheet.append([_cell(sheet, value) for value in row])


def _cell(sheet: object, value: Cell, *, bold: bool = False) -> object:
    if isinstance(value, str):
        cell = WriteOnlyCell(sheet, ILLEGAL_CHARACTERS_RE.sub("", value)[:_CELL_MOST])
        # Text stays text, also where it starts as a formula would.
        cell.data_type = "s"
        if bold:
            cell.font = Font(bold=True)
        return cell
    return value if value is None or math.isfinite(value) else None


def _text(cell: Cell) -> str:
    if cell is None:
        return ""
    if isinstance(cell, float):
        return repr(cell) if math.isfinite(cell) else ""
    return str(cell)
