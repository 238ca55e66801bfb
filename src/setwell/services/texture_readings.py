# ruff: noqa: A002 - "id" is what the front doors and the tables call it

"""Texture readings of saved versions: record, list, set aside, export; nothing is lost."""

from collections.abc import Mapping
from dataclasses import dataclass

from setwell.domain.texture_reading import TextureReading
from setwell.engine.assess import bench_build
from setwell.engine.batch_marks import lots_of
from setwell.errors import ConflictError, InputError, UnknownNameError
from setwell.services.clock import now
from setwell.services.csv_text import sheet_write
from setwell.services.materials import kitchen_catalog
from setwell.services.parts import parts_for
from setwell.services.shelves import LOTS
from setwell.services.texture_materials import agent_of_lot
from setwell.store.formula_rows import version_row
from setwell.store.texture_reading_rows import (
    StoredTextureReading,
    texture_row,
    texture_row_add,
    texture_rows,
    texture_ruling_add,
)
from setwell.store.transactions import writing
from setwell.tables.agents import agent_rows
from setwell.tables.rules import texture_regions

__all__ = [
    "AgentLots",
    "StoredTextureReading",
    "texture_reading_export_csv",
    "texture_reading_get",
    "texture_reading_list",
    "texture_reading_lots",
    "texture_reading_record",
    "texture_reading_rows",
    "texture_reading_set_aside",
    "texture_reading_take_back",
    "texture_word_choices",
]

REASON_LIMIT = 2_000
COLUMNS = (
    "id", "formula_id", "version", "title", "content_hash", "kind", "value", "unit",
    "plus_minus", "plunger_mm", "depth_mm", "shear_rate_per_s", "outcome", "word",
    "temperature_c", "hours", "lots", "taken_on", "taken_by", "recorded_at", "counts", "reason",
    "note",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class AgentLots:
    """An agent of a version with its lots: the one in use, and all on the shelf."""

    agent: str
    name: str
    in_use: str
    known: tuple[str, ...]


def texture_reading_lots(*, formula_id: int, number: int) -> tuple[AgentLots, ...]:
    """Return the agents of a version and the lots that a reading of it may name."""
    in_use = _lots_in_use(formula_id, number)
    if not in_use:
        return ()
    catalog, names = kitchen_catalog(), agent_rows()
    shelf = [agent_of_lot(lot, catalog) for lot in LOTS.documents()]
    return tuple(
        AgentLots(
            agent,
            names[agent].name,
            label,
            tuple(dict.fromkeys(one for one in (label, *_of(agent, shelf)) if one)),
        )
        for agent, label in in_use.items()
    )


def texture_reading_record(*, formula_id: int, number: int, document: TextureReading) -> int:
    """Record a reading of one version and return its id; it never changes and is never deleted.

    Agents whose lot the document does not name get the lot in use now.
    """
    lots = _lots_in_use(formula_id, number)
    _lots_checked(document.lots, lots, number)
    tidy = document.model_copy(
        update={
            "lots": dict(sorted((lots | document.lots).items())),
            "note": document.note.strip(),
            "taken_by": document.taken_by.strip(),
        }
    )
    with writing():
        return texture_row_add(
            formula_id=formula_id, number=number, document=tidy, recorded_at=now()
        )


def texture_reading_list(*, formula_id: int | None = None) -> tuple[StoredTextureReading, ...]:
    """Return the readings of a formula or of all, those of the newest version first."""
    return texture_rows(formula_id=formula_id)


def texture_reading_get(*, id: int) -> StoredTextureReading:
    """Return one reading."""
    return texture_row(row_id=id)


def texture_reading_set_aside(*, id: int, reason: str) -> None:
    """Keep a reading but let it count no longer; the reason is kept with it."""
    given = reason_checked(reason)
    if not texture_row(row_id=id).counts:
        raise ConflictError(f"Reading {id} is already set aside.")
    with writing():
        texture_ruling_add(row_id=id, counts=False, reason=given, recorded_at=now())


def texture_reading_take_back(*, id: int, reason: str = "") -> None:
    """Let a reading that was set aside count again."""
    if texture_row(row_id=id).counts:
        raise ConflictError(f"Reading {id} counts already.")
    with writing():
        texture_ruling_add(row_id=id, counts=True, reason=reason.strip(), recorded_at=now())


def texture_reading_rows(*, formula_id: int | None = None) -> tuple[tuple[str, ...], ...]:
    """Return all readings as rows of cells, the names of the columns first."""
    return (COLUMNS, *(_cells(row) for row in texture_rows(formula_id=formula_id)))


def texture_reading_export_csv(*, formula_id: int | None = None) -> str:
    """Return all readings as CSV text, those that are set aside too."""
    return sheet_write(texture_reading_rows(formula_id=formula_id))


def texture_word_choices() -> tuple[tuple[str, str, str], ...]:
    """Return the trade words that count as readings: key, name, and what each means."""
    return tuple((row.key, row.name, row.statement) for row in texture_regions())


def reason_checked(reason: str) -> str:
    """Return the reason for setting a reading aside, or say that one is needed."""
    given = reason.strip()
    if not given:
        raise InputError(
            "Say why the reading is set aside.",
            field="reason",
            hint="For example: the scale was not level, or the cup was still warm.",
        )
    if len(given) > REASON_LIMIT:
        raise InputError(
            f"The reason has {len(given):,} characters; at most {REASON_LIMIT:,} fit.",
            field="reason",
        )
    return given


def cell(value: object) -> str:
    """Return a value as a cell: nothing for None, numbers with all their digits."""
    if value is None:
        return ""
    return repr(value) if isinstance(value, float) else str(value)


def _lots_in_use(formula_id: int, number: int) -> dict[str, str]:
    """Return the lots in use of the agents of a version; none where it cannot be read."""
    _, formula = version_row(formula_id=formula_id, number=number)
    try:
        bench = bench_build(formula, catalog=kitchen_catalog(), parts=parts_for(formula))
    except InputError:
        return {}
    return lots_of(bench)


def _of(agent: str, shelf: list[tuple[str, str]]) -> tuple[str, ...]:
    """Return the lots of one agent on the shelf."""
    return tuple(label for key, label in shelf if key == agent)


def _lots_checked(given: Mapping[str, str], in_use: Mapping[str, str], number: int) -> None:
    """Refuse a lot of what is not in the version, and one that is not on the shelf."""
    catalog = kitchen_catalog()
    shelf = [agent_of_lot(lot, catalog) for lot in LOTS.documents()]
    for agent, label in given.items():
        if agent not in in_use:
            raise InputError(
                f"There is no {agent.replace('_', ' ')} in version {number}, so no lot of it.",
                field="lots",
                hint=f"Its agents are: {', '.join(sorted(in_use)) or 'none'}.",
            )
        known = _of(agent, shelf)
        if label not in {"", in_use[agent], *known}:
            raise UnknownNameError(
                f"There is no lot “{label}” of {agent.replace('_', ' ')} on the shelf.",
                field="lots",
                hint="Record the lot first, or leave it empty for a powder without one.",
                nearest=known[:5],
            )


def _cells(row: StoredTextureReading) -> tuple[str, ...]:
    reading = row.document
    values: tuple[object, ...] = (
        row.id, row.formula_id, row.number, row.title, row.content_hash, reading.kind.value,
        reading.value, reading.kind.unit, reading.doubt if reading.kind.unit else None,
        reading.plunger_mm if reading.kind.is_load else None, reading.depth_mm,
        reading.shear_rate_per_s, reading.outcome and reading.outcome.value, reading.word,
        reading.temperature_c, reading.hours,
        "; ".join(f"{agent}: {lot or '-'}" for agent, lot in reading.lots.items()),
        reading.taken_on, reading.taken_by, row.recorded_at.isoformat(),
        "yes" if row.counts else "no", row.reason, reading.note,
    )  # fmt: skip
    return tuple(cell(value) for value in values)
