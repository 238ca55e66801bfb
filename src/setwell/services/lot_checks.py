# ruff: noqa: A002 - "id" is what the front doors and the tables call it

"""Lots in standard tests: record, list, set aside, export, and how to do a test."""

from setwell.domain.texture_reading import LotCheck, LotTest, TextureKind
from setwell.engine.lot_check import lot_test_formula, lot_tests_of
from setwell.engine.lot_check_guide import GuideAnswer, LotCheckGuide
from setwell.engine.lot_check_guide import lot_check_guide as guide_of
from setwell.engine.material import MaterialKind
from setwell.errors import ConflictError, InputError, UnknownNameError
from setwell.services.clock import now
from setwell.services.csv_text import sheet_write
from setwell.services.materials import kitchen_catalog
from setwell.services.shelves import LOTS
from setwell.services.texture_materials import agent_of_lot
from setwell.services.texture_readings import cell, reason_checked
from setwell.store.name_key import name_key
from setwell.store.texture_reading_rows import (
    StoredLotCheck,
    lot_check_row,
    lot_check_row_add,
    lot_check_rows,
    lot_check_ruling_add,
)
from setwell.store.transactions import writing

__all__ = [
    "LotCheckGuide",
    "StoredLotCheck",
    "agent_key_of",
    "lot_check_export_csv",
    "lot_check_get",
    "lot_check_guide",
    "lot_check_list",
    "lot_check_meaning",
    "lot_check_record",
    "lot_check_set_aside",
    "lot_check_take_back",
    "lot_check_tests",
]

COLUMNS = (
    "id", "agent", "lot_code", "test", "dose_pct", "values", "unit", "plus_minus", "plunger_mm",
    "depth_mm", "shear_rate_per_s", "outcome", "color", "flavor", "temperature_c", "hours",
    "taken_on", "taken_by", "recorded_at", "counts", "reason", "note",
)  # fmt: skip


def agent_key_of(name: str) -> str:
    """Return the key of the table agent that a name stands for, also for an own product."""
    catalog = kitchen_catalog()
    known = catalog.materials.get(f"agent:{name}")
    found = catalog.find(name)
    material = known or (found.material if found is not None else None)
    if material is None or material.kind is not MaterialKind.AGENT or material.agent is None:
        raise UnknownNameError(
            f"“{name}” is not a texture agent of this kitchen.",
            field="agent",
            nearest=catalog.nearest(name),
        )
    return material.agent.key


def lot_check_tests(*, agent: str) -> tuple[LotTest, ...]:
    """Return the standard tests that fit an agent, the quickest first."""
    return lot_tests_of(agent_key_of(agent))


def lot_check_guide(*, agent: str, kind: LotTest, dose_pct: float | None = None) -> LotCheckGuide:
    """Return how to do a test: amounts, steps, what to look for, and what the answer means."""
    return guide_of(agent_key_of(agent), kind, dose_pct=dose_pct)


def lot_check_meaning(*, document: LotCheck) -> GuideAnswer | None:
    """Return what the outcome of a test means; None for a test that gave numbers only."""
    if document.outcome is None:
        return None
    return guide_of(agent_key_of(document.agent), document.kind).answer(document.outcome)


def lot_check_record(*, document: LotCheck) -> int:
    """Record a check of a lot and return its id; it never changes and is never deleted."""
    agent = agent_key_of(document.agent)
    _lot_checked(document, agent)
    test = lot_test_formula(agent, document.kind, dose_pct=document.dose_pct)
    tidy = document.model_copy(
        update={
            "dose_pct": test.dose_pct,
            "note": document.note.strip(),
            "taken_by": document.taken_by.strip(),
        }
    )
    with writing():
        return lot_check_row_add(agent=agent, document=tidy, recorded_at=now())


def lot_check_list(
    *, agent: str | None = None, lot_code: str | None = None
) -> tuple[StoredLotCheck, ...]:
    """Return the checks of all lots, of one agent's, or of one lot, newest first."""
    rows = lot_check_rows(agent=None if agent is None else agent_key_of(agent))
    return tuple(row for row in rows if lot_code is None or row.document.lot_code == lot_code)


def lot_check_get(*, id: int) -> StoredLotCheck:
    """Return one check."""
    return lot_check_row(row_id=id)


def lot_check_set_aside(*, id: int, reason: str) -> None:
    """Keep a check but let it count no longer; the reason is kept with it."""
    given = reason_checked(reason)
    if not lot_check_row(row_id=id).counts:
        raise ConflictError(f"Lot check {id} is already set aside.")
    with writing():
        lot_check_ruling_add(row_id=id, counts=False, reason=given, recorded_at=now())


def lot_check_take_back(*, id: int, reason: str = "") -> None:
    """Let a check that was set aside count again."""
    if lot_check_row(row_id=id).counts:
        raise ConflictError(f"Lot check {id} counts already.")
    with writing():
        lot_check_ruling_add(row_id=id, counts=True, reason=reason.strip(), recorded_at=now())


def lot_check_cells() -> tuple[tuple[str, ...], ...]:
    """Return all checks as rows of cells, the names of the columns first."""
    return (COLUMNS, *(_cells(row) for row in lot_check_rows()))


def lot_check_export_csv() -> str:
    """Return all checks as CSV text, those that are set aside too."""
    return sheet_write(lot_check_cells())


def _lot_checked(document: LotCheck, agent: str) -> None:
    """Refuse a lot code that no lot of this agent has: the check would speak of nothing."""
    if not document.lot_code:
        return
    catalog = kitchen_catalog()
    known = [lot for lot in LOTS.documents() if agent_of_lot(lot, catalog)[0] == agent]
    same = [lot for lot in known if name_key(lot.lot_code) == name_key(document.lot_code)]
    if not same:
        raise UnknownNameError(
            f"There is no lot “{document.lot_code}” of {document.agent} on the shelf.",
            field="lot_code",
            hint="Record the lot first, or leave the code empty for a powder without one.",
            nearest=tuple(lot.lot_code for lot in known)[:5],
        )
    if same[0].lot_code != document.lot_code:
        raise InputError(
            f"The lot is written “{same[0].lot_code}” on the shelf.",
            field="lot_code",
            hint="Write it the same way, so that its readings stay together.",
        )


def _cells(row: StoredLotCheck) -> tuple[str, ...]:
    check = row.document
    measures = check.kind.measures
    values: tuple[object, ...] = (
        row.id, check.agent, check.lot_code, check.kind.value, check.dose_pct,
        "; ".join(repr(value) for value in check.values), measures.unit,
        check.doubt if check.values else None,
        check.plunger if measures.is_load else None,
        check.depth if measures is TextureKind.FIRMNESS_PRESS else check.depth_mm,
        check.shear_rate_per_s, check.outcome and check.outcome.value,
        check.color and check.color.value, check.flavor and check.flavor.value,
        check.temperature_c, check.hours, check.taken_on, check.taken_by,
        row.recorded_at.isoformat(), "yes" if row.counts else "no", row.reason, check.note,
    )  # fmt: skip
    return tuple(cell(value) for value in values)
