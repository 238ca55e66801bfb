# ruff: noqa: A002 - "id" is what the front doors and the tables call it

"""What a probe log proves of the version it belongs to, beside what was computed for it."""

from dataclasses import dataclass, replace

import numpy as np

from setwell.domain.equipment import Cooler
from setwell.domain.formula import Formula
from setwell.domain.log_reading import ProbePlace
from setwell.domain.probe_log import ProbeLog
from setwell.domain.process_plan import CoolPlan, ProcessPlan
from setwell.engine.assess import bench_build
from setwell.engine.heat.coefficient_fit import FitResult
from setwell.engine.heat.cooling import cool
from setwell.engine.heat.course import Course, warmest_of
from setwell.engine.heat.equipment_fit import fit_cooler, measured_cooler
from setwell.engine.heat.results import AgentHeating
from setwell.engine.probe.comparing import compared
from setwell.engine.probe.judging import log_judge
from setwell.engine.probe.results import Compared, LogJudgement, LogPhase
from setwell.engine.rules.bench import Bench
from setwell.engine.safety.results import Ruling, SafetyCheck
from setwell.errors import InputError, SetwellError
from setwell.services import pantry
from setwell.services.formulas import version_get
from setwell.services.materials import kitchen_catalog, pantry_read
from setwell.services.parts import parts_for
from setwell.services.probe_logs import StoredProbeLog, probe_log_get
from setwell.services.process_plans import PlanInForce, plan_in_force

__all__ = [
    "AgentHeating",
    "CoolerFit",
    "JudgedLog",
    "LogJudgement",
    "LogPhase",
    "Ruling",
    "SafetyCheck",
    "probe_cooler_fit",
    "probe_cooler_use",
    "probe_judge",
    "probe_log_judged",
]

# The mold goes in when its core leaves the warmest reading by this much [°C].
_PLATEAU_C = 1.0
# A log that falls by less than this says nothing of a cold place [°C].
_LEAST_FALL_C = 5.0


@dataclass(frozen=True, slots=True, eq=False)
class JudgedLog:
    """A stored log with its verdicts, and the plan that the computed courses come from."""

    stored: StoredProbeLog
    judgement: LogJudgement
    plan: PlanInForce | None
    # Why no course was computed beside it, where that is so.
    remark: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class CoolerFit:
    """A cold place fitted to a log: as it would stand on the shelf."""

    cooler: Cooler
    fit: FitResult
    row_id: int | None


def probe_judge(*, document: ProbeLog, formula: Formula | None = None) -> LogJudgement:
    """Return what a log proves, without saving anything; a formula adds what its food needs."""
    return log_judge(document, None if formula is None else _bench(formula))


def probe_log_judged(*, id: int) -> JudgedLog:
    """Return a stored log with its verdicts, and beside it what was computed for its version."""
    stored = probe_log_get(id=id)
    formula = version_get(formula_id=stored.formula_id, number=stored.number).formula
    try:
        bench = _bench(formula)
    except InputError as error:
        told = f"The formula cannot be computed: {error.message}"
        return JudgedLog(stored, log_judge(stored.document), None, told)
    plan = _plan(stored, formula, bench)
    found = log_judge(stored.document, bench)
    beside, remark = _beside(found, bench, plan.plan)
    return JudgedLog(stored, replace(found, compared=beside), plan, remark)


def probe_cooler_fit(*, id: int) -> CoolerFit:
    """Return the cold place of the plan, fitted to a log; nothing is saved.

    Raises InputError where the log does not tell, with what is missing.
    """
    stored = probe_log_get(id=id)
    formula = version_get(formula_id=stored.formula_id, number=stored.number).formula
    bench = _bench(formula)
    cooling = _cooling(_plan(stored, formula, bench).plan)
    fit = fit_cooler(bench, cooling, _core(log_judge(stored.document)))
    measured = (
        f"Fitted to probe log {stored.id}, {stored.document.title}, of version {stored.number} "
        f"of {stored.version_title}, {stored.recorded_at:%Y-%m-%d}: {fit.text}"
    )
    row = next(
        (row for row in pantry.cooler_list() if row.document.name == cooling.cooler.name), None
    )
    shelf = row.document if row is not None else cooling.cooler
    return CoolerFit(
        measured_cooler(shelf, fit, measured[:2_000]), fit, None if row is None else row.id
    )


def probe_cooler_use(*, id: int) -> Cooler:
    """Write the fitted figure of the cold place on the shelf, with the log it comes from."""
    found = probe_cooler_fit(id=id)
    pantry.cooler_save(id=found.row_id, document=found.cooler)
    return found.cooler


def _bench(formula: Formula) -> Bench:
    return bench_build(formula, catalog=kitchen_catalog(), parts=parts_for(formula))


def _plan(stored: StoredProbeLog, formula: Formula, bench: Bench) -> PlanInForce:
    return plan_in_force(
        formula_id=stored.formula_id, number=stored.number, formula=formula,
        pantry=pantry_read(), batch_g=float(bench.state.composition.finished_g[0]),
    )  # fmt: skip


def _cooling(plan: ProcessPlan) -> CoolPlan:
    if plan.cooling is None:
        raise InputError(
            "The process of this version has no cold place and no molds.",
            field="cooling",
            hint="Add them on the process page of the formula first.",
        )
    return plan.cooling


def _core(found: LogJudgement) -> Course:
    """Return the course of the core: the probe named so, else the warmest in the food."""
    counted = [one for one in found.clean.food if one.course is not None and not one.is_still]
    named = [one.course for one in counted if one.place is ProbePlace.CORE and one.course]
    courses = tuple(one.course for one in counted if one.course is not None)
    if named:
        return named[0]
    if not courses:
        raise InputError(
            "No probe of this log can be used.", field="log", hint="Look at what was flagged."
        )
    return courses[0] if len(courses) == 1 else warmest_of(courses)


def _beside(
    found: LogJudgement, bench: Bench, plan: ProcessPlan
) -> tuple[tuple[Compared, ...], str]:
    """Return the log beside the computed courses, or why there is none."""
    if plan.cooling is None:
        return (), "No course was computed: the process of this version has no cold place."
    try:
        core = _core(found)
        start, warm = _goes_in(core)
        if warm - float(core.celsius[core.seconds >= start].min()) < _LEAST_FALL_C:
            return (), ""
        planned = plan.cooling.model_copy(update={"pour_c": warm, "counter_min": 0.0})
        beside = compared(core, cool(bench, planned).core, start_s=start)
    except SetwellError as error:
        return (), f"No course was computed beside it: {error.message}"
    return ((beside,) if beside is not None else ()), ""


def _goes_in(core: Course) -> tuple[float, float]:
    """Return when the mold went in [s] and how warm: the end of the warmest stretch."""
    warm = float(core.celsius.max())
    last = int(np.flatnonzero(core.celsius >= warm - _PLATEAU_C)[-1])
    return float(core.seconds[last]), float(core.celsius[last])
