# ruff: noqa: A002 - "id" is what the front doors and the tables call it

"""What a probe log proves of the version it belongs to, beside what was computed for it."""

import logging
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial
from typing import TypeVar

import numpy as np

from setwell.domain.formula import Formula
from setwell.domain.log_reading import LogReading, LogTable, ProbePlace, ReadingNote
from setwell.domain.probe_log import ProbeLog, egg_checked
from setwell.domain.process_plan import ProcessPlan
from setwell.engine.assess import bench_build
from setwell.engine.heat.cooling import cool
from setwell.engine.heat.course import Course, coldest_of, warmest_of
from setwell.engine.heat.pot import heat_pot
from setwell.engine.heat.results import Advice, AgentHeating
from setwell.engine.probe.comparing import compared
from setwell.engine.probe.judging import log_judge
from setwell.engine.probe.purpose import LogPurpose
from setwell.engine.probe.results import (
    CleanProbe,
    Compared,
    Gap,
    LogJudgement,
    LogPhase,
    PhaseKind,
)
from setwell.engine.rules.bench import Bench
from setwell.engine.safety.results import Ruling, SafetyCheck
from setwell.errors import InputError, SetwellError
from setwell.services.formulas import version_get
from setwell.services.materials import kitchen_catalog, pantry_read
from setwell.services.parts import parts_for
from setwell.services.probe_logs import StoredProbeLog, probe_log_get
from setwell.services.process_plans import PlanInForce, plan_in_force

__all__ = [
    "AgentHeating",
    "JudgedLog",
    "LogJudgement",
    "LogPhase",
    "LogPurpose",
    "ProbeReport",
    "ProbeUse",
    "Ruling",
    "SafetyCheck",
    "probe_judge",
    "probe_log_judged",
    "probe_report",
]

_log = logging.getLogger(__name__)
Result = TypeVar("Result")
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


@dataclass(frozen=True, slots=True)
class ProbeUse:
    """What came of one probe: its samples themselves are in the file."""

    name: str
    place: ProbePlace
    used: int
    flagged: int
    lowest_c: float | None
    highest_c: float | None
    gaps: tuple[Gap, ...]
    is_still: bool


@dataclass(frozen=True, slots=True)
class ProbeReport:
    """How a log was read and what it proves, without its samples."""

    log_id: int | None
    title: str
    count: int
    started: str
    read_by: LogReading
    notes: tuple[ReadingNote, ...]
    probes: tuple[ProbeUse, ...]
    remarks: tuple[Advice, ...]
    phases: tuple[LogPhase, ...]
    agents: tuple[AgentHeating, ...]
    checks: tuple[SafetyCheck, ...]
    summary: str


def probe_report(
    *, table: LogTable, document: ProbeLog, found: LogJudgement, log_id: int | None = None
) -> ProbeReport:
    """Return what is told of a log, ready to print."""
    return ProbeReport(
        log_id, document.title, document.count, document.started, table.reading, table.notes,
        tuple(_use(probe) for probe in found.clean.probes), found.clean.remarks, found.phases,
        found.agents, found.checks, found.summary if found.checks or found.agents else "",
    )  # fmt: skip


def _use(probe: CleanProbe) -> ProbeUse:
    course = probe.course
    return ProbeUse(
        probe.name,
        probe.place,
        0 if course is None else len(course.seconds),
        int((probe.flags > 0).sum()),
        None if course is None else float(course.celsius.min()),
        None if course is None else float(course.celsius.max()),
        probe.gaps,
        probe.is_still,
    )


def probe_judge(
    *,
    document: ProbeLog,
    formula: Formula | None = None,
    purpose: LogPurpose = LogPurpose.BATCH,
) -> LogJudgement:
    """Return what a log proves, without saving anything; a formula adds what its food needs."""
    return log_judge(document, None if formula is None else bench_of(formula), purpose=purpose)


def probe_log_judged(
    *, id: int, egg_in_s: float | None = None, purpose: LogPurpose = LogPurpose.BATCH
) -> JudgedLog:
    """Return a stored log with its verdicts, and beside it what was computed for its version.

    `egg_in_s` is when the egg went in, where that is told later than the log was saved.
    """
    stored = probe_log_get(id=id)
    document = stored.document
    if egg_in_s is not None:
        egg_checked(document.table[0], egg_in_s)
        document = document.model_copy(update={"egg_in_s": egg_in_s})
    formula = version_get(formula_id=stored.formula_id, number=stored.number).formula
    try:
        bench = bench_of(formula)
    except InputError as error:
        told = f"The formula cannot be computed: {error.message}"
        return JudgedLog(stored, log_judge(document), None, told)
    plan = plan_of(stored, formula, bench)
    found = log_judge(document, bench, purpose=purpose)
    if purpose is not LogPurpose.BATCH:
        return JudgedLog(stored, found, plan)
    beside, remark = _beside(found, bench, plan.plan)
    return JudgedLog(stored, replace(found, compared=beside), plan, remark)


def bench_of(formula: Formula) -> Bench:
    """Return a formula computed with this kitchen's pantry."""
    return bench_build(formula, catalog=kitchen_catalog(), parts=parts_for(formula))


def plan_of(stored: StoredProbeLog, formula: Formula, bench: Bench) -> PlanInForce:
    """Return how the version of a log is heated and cooled."""
    return plan_in_force(
        formula_id=stored.formula_id, number=stored.number, formula=formula,
        pantry=pantry_read(), batch_g=float(bench.state.composition.finished_g[0]),
    )  # fmt: skip


def _beside(
    found: LogJudgement, bench: Bench, plan: ProcessPlan
) -> tuple[tuple[Compared, ...], str]:
    """Return the log beside the computed courses, and why one of them is not there."""
    beside: list[Compared] = []
    remarks: list[str] = []
    for way in (_beside_pot, _beside_mold):
        try:
            one = computed(partial(way, found, bench, plan))
        except SetwellError as error:
            remarks.append(f"No course was computed beside it: {error.message}")
        else:
            beside += [one] if one is not None else []
    return tuple(beside), " ".join(dict.fromkeys(remarks))


def computed(work: Callable[[], Result]) -> Result:
    """Return what is computed for a log, or say that it cannot be for temperatures like these."""
    try:
        return work()
    except SetwellError:
        raise
    except (ValueError, ArithmeticError, IndexError) as error:
        # A log may hold any temperatures at any times; the equations of pots and molds do not.
        _log.warning("a log was outside of what is computed: %s", error)
        raise InputError(
            "Its times and temperatures are outside of what is computed for a pot or a mold.",
            field="log",
            hint="Look at its chart: a probe may have been in the wrong place.",
        ) from error


def _beside_pot(found: LogJudgement, bench: Bench, plan: ProcessPlan) -> Compared | None:
    """Return the way up beside the computed pot, by the coldest probe."""
    heating = next((one for one in found.phases if one.kind is PhaseKind.HEATING), None)
    courses = counted_courses(found)
    if plan.pot is None or heating is None or not courses:
        return None
    coldest = replace(coldest_of(courses), place="The coldest probe")
    start = float(np.interp(heating.start_s, coldest.seconds, coldest.celsius))
    pot = heat_pot(bench, plan.pot.model_copy(update={"start_c": round(start, 1)}))
    way_up = _until(coldest, heating.end_s)
    return compared(way_up, pot.coldest, start_s=heating.start_s)


def _beside_mold(found: LogJudgement, bench: Bench, plan: ProcessPlan) -> Compared | None:
    """Return the way down beside the computed mold, by its core."""
    if plan.cooling is None:
        return None
    core = place_course(found, ProbePlace.CORE)
    start, warm = _goes_in(core)
    if warm - float(core.celsius[core.seconds >= start].min()) < _LEAST_FALL_C:
        return None
    planned = plan.cooling.model_copy(update={"pour_c": round(warm, 1), "counter_min": 0.0})
    return compared(core, cool(bench, planned).core, start_s=start)


def counted_courses(found: LogJudgement) -> tuple[Course, ...]:
    """Return the courses of the probes in the food that can be used."""
    return tuple(
        one.course for one in found.clean.food if one.course is not None and not one.is_still
    )


def place_course(found: LogJudgement, place: ProbePlace) -> Course:
    """Return the course of a place: the probe that sat there, else the warmest in the food."""
    courses = counted_courses(found)
    if not courses:
        raise InputError(
            "No probe of this log can be used.", field="log", hint="Look at what was flagged."
        )
    there = {probe.name for probe in found.clean.food if probe.place is place}
    named = next((course for course in courses if course.place in there), None)
    if named is not None:
        return named
    return courses[0] if len(courses) == 1 else warmest_of(courses)


def _until(course: Course, end_s: float) -> Course:
    kept = course.seconds <= end_s
    return replace(
        course,
        seconds=course.seconds[kept],
        celsius=course.celsius[kept],
        low_c=course.low_c[kept],
        high_c=course.high_c[kept],
    )


def _goes_in(core: Course) -> tuple[float, float]:
    """Return when the mold went in [s] and how warm: the end of the warmest stretch."""
    warm = float(core.celsius.max())
    last = int(np.flatnonzero(core.celsius >= warm - _PLATEAU_C)[-1])
    return float(core.seconds[last]), float(core.celsius[last])
