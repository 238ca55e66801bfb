"""A log of food that is kept hot or cold, or heated again: judged as such and nothing else."""

from dataclasses import replace
from enum import StrEnum

from setwell.engine.heat.course import Course
from setwell.engine.rules.bench import Bench
from setwell.engine.safety.holding import Holding, holding_checks
from setwell.engine.safety.reheating import reheating_checks
from setwell.engine.safety.results import Ruling, SafetyCheck

_GAP = "The log has a gap, so nobody can tell what came in between."
_RUN_ON = "Let the logger run without a break."


class LogPurpose(StrEnum):
    """What was being done while the log was taken."""

    BATCH = "batch"
    HELD_HOT = "held hot"
    HELD_COLD = "held cold"
    REHEATED = "reheated"


def purpose_checks(
    bench: Bench, courses: tuple[Course, ...], purpose: LogPurpose, *, has_gaps: bool
) -> tuple[SafetyCheck, ...]:
    """Return what the rules say of food held or reheated; a gap takes every pass away."""
    if purpose is LogPurpose.REHEATED:
        checks = reheating_checks(bench, courses)
    else:
        holding = Holding.HOT if purpose is LogPurpose.HELD_HOT else Holding.COLD
        checks = holding_checks(bench, courses, holding=holding)
    return tuple(map(_open, checks)) if has_gaps else checks


def _open(check: SafetyCheck) -> SafetyCheck:
    if check.ruling is not Ruling.PASS:
        return check
    return replace(
        check, ruling=Ruling.CANNOT_TELL, text=f"{_GAP} At best: {check.text}", action=_RUN_ON
    )
