"""The pantry as CSV files, out and in; an import changes everything or nothing."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from pydantic import ValidationError

from setwell.domain.document import Document
from setwell.domain.pantry import Lot
from setwell.domain.reading import IngredientReading
from setwell.errors import InputError
from setwell.services.clock import now
from setwell.services.csv_text import Sheet, sheet_read, sheet_write
from setwell.services.ingredient_readings import readings_settle
from setwell.services.lots import agent_identity, lots_settle
from setwell.services.pantry_checks import OwnNames, faults, own_names_read, tidied
from setwell.services.pantry_columns import COLUMNS, cell_read, cells_write, is_nutrient
from setwell.services.pantry_results import ImportReport
from setwell.services.price_history import price_note
from setwell.services.revision import pantry_touch
from setwell.services.shelves import SHELVES
from setwell.store.entities import TABLES, Entity
from setwell.store.name_key import name_key
from setwell.store.pantry_rows import Shelf
from setwell.store.transactions import writing

# Whoever has more problems than this has one problem: the wrong file.
PROBLEMS_LIMIT = 50


@dataclass(slots=True)
class _Draft:
    """An import on its way: what was read so far, and what is wrong with it."""

    entity: Entity
    sheet: Sheet
    stored: dict[str, Document]
    own: OwnNames
    documents: dict[str, Document] = field(default_factory=dict)
    rows: dict[str, int] = field(default_factory=dict)
    problems: list[str] = field(default_factory=list)


def pantry_export_csv(*, entity: str) -> str:
    """Return everything on one shelf; the same file can be imported again."""
    kind = _entity(entity)
    columns = [column.name for column in COLUMNS[kind]]
    documents = SHELVES[kind].documents()
    return sheet_write([columns, *(cells_write(kind, document) for document in documents)])


def pantry_import_csv(*, entity: str, data: bytes) -> ImportReport:
    """Add and update what a CSV file holds; with any problem nothing is changed.

    A row whose name is on the shelf updates that thing: an empty cell clears the field, a
    column left out leaves it as it is.
    """
    kind = _entity(entity)
    try:
        sheet = sheet_read(data)
    except InputError as error:
        return ImportReport(0, 0, (str(error),))
    problems = tuple(_header_problems(kind, sheet))
    if problems:
        return ImportReport(0, 0, problems, sheet.notes)
    shelf = SHELVES[kind]
    with writing():
        draft = _Draft(kind, sheet, shelf.by_name(), own_names_read())
        _read_rows(draft)
        if not draft.problems:
            _write(shelf, draft)
    if draft.problems:
        return ImportReport(0, 0, tuple(draft.problems), sheet.notes)
    updated = len(draft.documents.keys() & draft.stored.keys())
    return ImportReport(len(draft.documents) - updated, updated, (), sheet.notes)


def _entity(entity: str) -> Entity:
    try:
        return Entity(entity)
    except ValueError:
        known = ", ".join(Entity)
        raise InputError(f"“{entity[:30]}” is not a shelf of the pantry; choose {known}.") from None


def _header_problems(entity: Entity, sheet: Sheet) -> Iterator[str]:
    columns = {column.name: column for column in COLUMNS[entity]}
    seen: set[str] = set()
    for name in sheet.header:
        if name and name not in columns:
            known = ", ".join(columns)
            yield (
                f"Row 1: there is no column “{name[:40]}” for a {entity.value}. "
                f"Rename or remove it; known are {known}."
            )
        if name and name in seen:
            yield f"Row 1: the column “{name}” is there twice. Remove one."
        seen.add(name)
    for column in columns.values():
        if column.needed and column.name not in seen:
            yield f"Row 1: the column “{column.name}” is missing. Add it."


def _read_rows(draft: _Draft) -> None:
    for number, row in draft.sheet.rows:
        if len(draft.problems) >= PROBLEMS_LIMIT:
            draft.problems.append("There are more problems; correct these first.")
            return
        problems = tuple(_read_row(draft, number, row))
        draft.problems.extend(f"Row {number}, {problem}" for problem in problems)
    if draft.entity is Entity.LOT:
        draft.problems.extend(_two_in_use(draft))


def _read_row(draft: _Draft, number: int, row: tuple[str, ...]) -> Iterator[str]:
    extra = [cell for cell in row[len(draft.sheet.header) :] if cell.strip()]
    if extra:
        yield (
            f"after the last column: “{extra[0][:30]}” belongs to no column. Put text that "
            "holds the separator into quotation marks."
        )
        return
    fields: dict[str, object] = {}
    named = dict(zip(draft.sheet.header, row, strict=False))
    problems: list[str] = []
    for column in COLUMNS[draft.entity]:
        if column.name in draft.sheet.header:
            try:
                fields[column.name] = cell_read(
                    column,
                    named.get(column.name, ""),
                    has_decimal_comma=draft.sheet.has_decimal_comma,
                )
            except InputError as error:
                problems.append(f"column {column.name}: {error.message}")
    yield from problems or _take(draft, number, fields)


def _take(draft: _Draft, number: int, fields: dict[str, object]) -> Iterator[str]:
    """Make a document of the fields and keep it, or yield why that cannot be done."""
    table = TABLES[draft.entity]
    try:
        plain = table.document.model_validate(_arranged(draft.entity, fields, None))
        key = name_key(table.name_of(tidied(plain)))
        before = draft.stored.get(key)
        document = tidied(table.document.model_validate(_arranged(draft.entity, fields, before)))
    except ValidationError as error:
        yield from (_sentence(one["loc"], one["msg"]) for one in error.errors())
        return
    wrong = [f"column {one.field}: {one.message}" for one in faults(document, draft.own)]
    if key in draft.documents:
        wrong.append(
            f"“{table.name_of(document)}” is already in row {draft.rows[key]}. Remove one of them."
        )
    if wrong:
        yield from wrong
        return
    draft.documents[key] = document
    draft.rows[key] = number


def _arranged(
    entity: Entity, fields: dict[str, object], before: Document | None
) -> dict[str, object]:
    """Return the fields of a document; what the file does not mention stays as it was."""
    arranged = before.model_dump() if before is not None else {}
    nutrients = dict(arranged.get("nutrients", {}))
    for column in COLUMNS[entity]:
        if column.name not in fields:
            continue
        target = nutrients if is_nutrient(entity, column) else arranged
        target.pop(column.name, None)
        if fields[column.name] is not None:
            target[column.name] = fields[column.name]
    return {**arranged, "nutrients": nutrients} if nutrients else arranged


def _sentence(location: tuple[int | str, ...], message: str) -> str:
    path = [str(part) for part in location]
    column = path[1] if path[:1] == ["nutrients"] and len(path) > 1 else "".join(path[:1])
    said = "is empty; it needs a value" if message == "Field required" else message
    return f"column {column}: {said.removeprefix('Value error, ')}."


def _two_in_use(draft: _Draft) -> Iterator[str]:
    first: dict[str, int] = {}
    for key, lot in draft.documents.items():
        if isinstance(lot, Lot) and lot.in_use:
            agent = agent_identity(lot.agent)
            if agent in first:
                yield (
                    f"Row {draft.rows[key]}, column in_use: the lot in row {first[agent]} of the "
                    "same agent is in use too. Only one can be."
                )
            first.setdefault(agent, draft.rows[key])


def _write(shelf: Shelf[Any], draft: _Draft) -> None:
    moment = now()
    shelf.put_all(draft.documents.values(), saved_at=moment)
    documents = draft.documents.values()
    for document in documents:
        price_note(draft.entity, document)
    lots = [one for one in documents if isinstance(one, Lot) and one.in_use]
    lots_settle(lots, saved_at=moment)
    readings = [one for one in documents if isinstance(one, IngredientReading) and one.in_use]
    readings_settle(readings, saved_at=moment)
    pantry_touch()
