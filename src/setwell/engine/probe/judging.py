"""What a probe's log proves of a batch: hydration, heating and cooling on the worst probe."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from setwell.domain.probe_log import ProbeLog
from setwell.engine.heat.course import Course, coldest_of, warmest_of
from setwell.engine.probe.afterwards import afterwards_checks
from setwell.engine.probe.cleaning import log_clean
from setwell.engine.probe.doubts import doubted
from setwell.engine.probe.heatings import Begin, heated_each_time, heatings_begin
from setwell.engine.probe.hydration import agents_heated
from setwell.engine.probe.phases import phases_of
from setwell.engine.probe.purpose import LogPurpose, purpose_checks
from setwell.engine.probe.results import CleanLog, CleanProbe, LogJudgement
from setwell.engine.probe.unknown import cooling_course, heating_course, thinned, warm_part
from setwell.engine.rules.bench import Bench
from setwell.engine.safety.cooling import cooling_checks
from setwell.engine.safety.edges import course_since
from setwell.engine.safety.heating import heating_checks
from setwell.engine.safety.results import Ruling, SafetyCheck
from setwell.engine.safety.unheated import unheated_checks, unknown_food_check
from setwell.errors import InputError
from setwell.tables.rules import food_code_rules

Filled = Callable[[CleanProbe], Course | None]


def log_judge(
    log: ProbeLog, bench: Bench | None = None, *, purpose: LogPurpose = LogPurpose.BATCH
) -> LogJudgement:
    """Return what a log proves, with the formula it belongs to where there is one.

    By its `purpose` it is the log of a batch that was heated and cooled, or of food held or
    reheated, which takes a formula.

    Only probes in the food count. A gap counts as the worst it could have been for a pass and
    as the best for a fail; what is left is that nobody can tell. The same goes for guesses about
    the file that nobody confirmed.
    """
    if purpose is not LogPurpose.BATCH:
        if bench is None:
            raise InputError(
                f"Food that was {purpose.value} is judged with its formula.",
                field="formula",
                hint="Name the formula.",
            )
        return doubted(
            _served(log, bench, purpose), log, lambda other: _served(other, bench, purpose)
        )
    return doubted(_judged(log, bench), log, lambda other: _judged(other, bench))


def _served(log: ProbeLog, bench: Bench, purpose: LogPurpose) -> LogJudgement:
    """Return what a log proves of food that was held or reheated."""
    clean = log_clean(log)
    heating, warmest = _extreme(clean, heating_course, coldest_of), _warmest(clean, at_worst=True)
    counted = _counted(clean)
    courses = tuple(one.course for one in counted if one.course is not None)
    phases = phases_of(courses)
    if heating is None:
        return LogJudgement(clean, None, None, phases, (), ())
    has_gaps = any(one.gaps for one in counted)
    checks = purpose_checks(bench, courses, purpose, has_gaps=has_gaps)
    return LogJudgement(clean, heating, warmest, phases, (), checks)


def _judged(log: ProbeLog, bench: Bench | None) -> LogJudgement:
    clean = log_clean(log)
    heating = _extreme(clean, heating_course, coldest_of)
    courses = tuple(one.course for one in _counted(clean) if one.course is not None)
    if heating is None:
        return LogJudgement(clean, None, None, phases_of(courses), (), ())
    worst, best = (_warmest(clean, at_worst=at_worst) for at_worst in (True, False))
    cooled = cooled_judge(bench, worst, best)
    if worst is not None:
        cooled = (*cooled, *afterwards_checks(worst, cooled))
    if bench is None:
        # What was in the pot is not known: only how it cooled can be judged.
        checks = (*cooled, unknown_food_check())
        return LogJudgement(clean, heating, worst, phases_of(courses), (), checks)
    warm = warm_part(heating)
    return LogJudgement(
        clean,
        heating,
        worst,
        phases_of(courses),
        agents_heated(bench, warm),
        (*_heated(bench, warm, _heatings(clean), log.egg_in_s), *cooled),
    )


def _heatings(clean: CleanLog) -> tuple[Begin, ...]:
    """Return when the coldest of the probes that count begins to be heated anew [s]."""
    counted = _counted(clean)
    courses = tuple(one.course for one in counted if one.course is not None)
    return heatings_begin(coldest_of(courses), tuple(gap for one in counted for gap in one.gaps))


def _heated(
    bench: Bench, warm: Course, begins: tuple[Begin, ...], egg_in_s: float | None
) -> tuple[SafetyCheck, ...]:
    """Return what the rules say of the heating; each heating of a log has to meet them."""

    def judge(course: Course) -> tuple[SafetyCheck, ...]:
        return heating_checks(bench, (course,), egg_in_s=egg_in_s)

    if egg_in_s is not None and egg_in_s >= float(warm.seconds[-1]):
        # The probes that count end before the egg went in: nothing is known of its heat.
        return unheated_checks(bench)
    if egg_in_s is None:
        return heated_each_time(judge(warm), warm, begins, judge)
    later = course_since(warm, egg_in_s)
    return heated_each_time(judge(later), later, begins, judge)


def cooled_judge(
    bench: Bench | None, worst: Course | None, best: Course | None
) -> tuple[SafetyCheck, ...]:
    """Return what the rules say of a cooling whose gaps went as badly, or as well, as can be."""
    if worst is None or best is None:
        return ()
    least = cooling_checks(bench, (worst,))
    if worst.seconds is best.seconds or np.array_equal(worst.celsius, best.celsius):
        return least
    most = {check.key: check for check in cooling_checks(bench, (best,))}
    return tuple(_either(check, most.get(check.key, check)) for check in least)


def _either(worst: SafetyCheck, best: SafetyCheck) -> SafetyCheck:
    """Return the verdict that holds however the gaps went."""
    if worst.ruling is best.ruling or worst.ruling is Ruling.PASS:
        return worst
    if best.ruling is Ruling.FAIL:
        return best
    return replace(
        worst,
        ruling=Ruling.CANNOT_TELL,
        text=f"The log has a gap, so nobody can tell. At worst: {worst.text} At best: {best.text}",
        action="Let the logger run through the next cooling, and treat this batch as your plan "
        "asks when nothing is proven.",
    )


def _warmest(clean: CleanLog, *, at_worst: bool) -> Course | None:
    hot_c = food_code_rules()["cooling_total"].start_temperature_c or 0.0
    return _extreme(
        clean, lambda one: cooling_course(one, hot_c=hot_c, at_worst=at_worst), warmest_of
    )


def _counted(clean: CleanLog) -> tuple[CleanProbe, ...]:
    """Return the probes in the food that a verdict may rest on."""
    return tuple(one for one in clean.food if one.course is not None and not one.is_still)


def _extreme(
    clean: CleanLog, filled: Filled, pick: Callable[[tuple[Course, ...]], Course]
) -> Course | None:
    courses = tuple(course for one in _counted(clean) if (course := filled(one)) is not None)
    if not courses:
        return None
    start = max(float(one.seconds[0]) for one in courses)
    if start >= min(float(one.seconds[-1]) for one in courses):
        return None
    names = [f"“{one.place}”" for one in courses]
    if len(names) == 1:
        return thinned(replace(courses[0], place=f"probe {names[0]}"))
    which = "coldest" if pick is coldest_of else "warmest"
    place = f"{which} of the probes {', '.join(names[:-1])} and {names[-1]}"
    return thinned(replace(pick(courses), place=place))
