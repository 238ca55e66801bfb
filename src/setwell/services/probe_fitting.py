# ruff: noqa: A002 - "id" is what the front doors and the tables call it

"""A hob or a cold place of this kitchen, fitted to a probe log and written on its shelf."""

from dataclasses import dataclass
from enum import StrEnum

from setwell.domain.equipment import Cooler, Hob
from setwell.domain.log_reading import ProbePlace
from setwell.domain.process_plan import ProcessPlan
from setwell.engine.heat.coefficient_fit import FitResult
from setwell.engine.heat.equipment_fit import fit_cooler, measured_cooler
from setwell.engine.heat.hob_fit import fit_hob, measured_hob
from setwell.engine.probe.results import LogJudgement
from setwell.engine.rules.bench import Bench
from setwell.errors import ConflictError, InputError
from setwell.services import pantry
from setwell.services.formulas import version_get
from setwell.services.probe_judging import (
    bench_of,
    computed,
    place_course,
    plan_of,
    probe_judge,
)
from setwell.services.probe_logs import StoredProbeLog, probe_log_get
from setwell.units import date_print

__all__ = ["EquipmentFit", "FittedKind", "probe_equipment_fit", "probe_equipment_use"]

_NOTE_LIMIT = 2_000


class FittedKind(StrEnum):
    """What a log can tell of the kitchen."""

    COLD_PLACE = "cold place"
    HOB = "hob"


@dataclass(frozen=True, slots=True, eq=False)
class EquipmentFit:
    """A hob or a cold place as it would stand on the shelf, and the fit behind it."""

    kind: FittedKind
    equipment: Hob | Cooler
    fit: FitResult
    row_id: int | None


def probe_equipment_fit(*, id: int, kind: FittedKind) -> EquipmentFit:
    """Return the hob or cold place of a version's process, fitted to a log; nothing is saved.

    Raises InputError where the log does not tell, with what is missing.
    """
    stored = probe_log_get(id=id)
    if not stored.counts:
        raise ConflictError(
            f"Log {id} is set aside, so nothing is fitted to it.", hint="Let it count again first."
        )
    formula = version_get(formula_id=stored.formula_id, number=stored.number).formula
    bench = bench_of(formula)
    plan = plan_of(stored, formula, bench).plan
    found = probe_judge(document=stored.document)
    if kind is FittedKind.HOB:
        return _hob(stored, bench, plan, found)
    return _cold_place(stored, bench, plan, found)


def probe_equipment_use(*, id: int, kind: FittedKind) -> EquipmentFit:
    """Write the fitted figure on the shelf, with the log it comes from."""
    found = probe_equipment_fit(id=id, kind=kind)
    if isinstance(found.equipment, Hob):
        pantry.hob_save(id=found.row_id, document=found.equipment)
    else:
        pantry.cooler_save(id=found.row_id, document=found.equipment)
    return found


def _cold_place(
    stored: StoredProbeLog, bench: Bench, plan: ProcessPlan, found: LogJudgement
) -> EquipmentFit:
    if plan.cooling is None:
        raise _no_plan("no molds and no cold place", "cooling")
    cooler = plan.cooling.cooler
    cooling, core = plan.cooling, place_course(found, ProbePlace.CORE)
    fit = computed(lambda: fit_cooler(bench, cooling, core))
    kept = {row.document.name: row for row in pantry.cooler_list()}.get(cooler.name)
    fitted = measured_cooler(kept.document if kept else cooler, fit, _measured(stored, fit))
    return EquipmentFit(FittedKind.COLD_PLACE, fitted, fit, kept.id if kept else None)


def _hob(
    stored: StoredProbeLog, bench: Bench, plan: ProcessPlan, found: LogJudgement
) -> EquipmentFit:
    if plan.pot is None:
        raise _no_plan("no pot", "pot")
    hob = plan.pot.hob
    pot, bottom = plan.pot, place_course(found, ProbePlace.BOTTOM)
    fit = computed(lambda: fit_hob(bench, pot, bottom))
    kept = {row.document.name: row for row in pantry.hob_list()}.get(hob.name)
    fitted = measured_hob(kept.document if kept else hob, fit, _measured(stored, fit))
    return EquipmentFit(FittedKind.HOB, fitted, fit, kept.id if kept else None)


def _no_plan(missing: str, field: str) -> InputError:
    return InputError(
        f"The process of this version has {missing}.",
        field=field,
        hint="Add it on the process page of the formula first.",
    )


def _measured(stored: StoredProbeLog, fit: FitResult) -> str:
    told = (
        f"Fitted to probe log {stored.id}, {stored.document.title}, of {stored.version_title}, "
        f"version {stored.number}, {date_print(stored.recorded_at.astimezone())}. {fit.text}"
    )
    return told[:_NOTE_LIMIT]
