"""What a probe's log proves of a batch: hydration, heating and cooling on the worst probe."""

from collections.abc import Callable
from dataclasses import replace

from setwell.domain.probe_log import ProbeLog
from setwell.engine.heat.course import Course, coldest_of, warmest_of
from setwell.engine.probe.cleaning import log_clean
from setwell.engine.probe.hydration import agents_heated
from setwell.engine.probe.phases import phases_of
from setwell.engine.probe.results import CleanLog, CleanProbe, LogJudgement
from setwell.engine.probe.unknown import cooling_course, heating_course, thinned, warm_part
from setwell.engine.rules.bench import Bench
from setwell.engine.safety.cooling import cooling_checks
from setwell.engine.safety.heating import heating_checks

Filled = Callable[[CleanProbe], Course | None]


def log_judge(log: ProbeLog, bench: Bench | None = None) -> LogJudgement:
    """Return what a log proves, with the formula it belongs to where there is one.

    Only probes in the food count. A gap counts as the worst it could have been for a pass and
    as the best for a fail; what is left is that nobody can tell.
    """
    clean = log_clean(log)
    heating = _extreme(clean, heating_course, coldest_of)
    cooling = _extreme(clean, cooling_course, warmest_of)
    courses = tuple(one.course for one in _counted(clean) if one.course is not None)
    if heating is None or cooling is None:
        return LogJudgement(clean, heating, cooling, phases_of(courses), (), ())
    cooled = cooling_checks(bench, (cooling,))
    if bench is None:
        # What was in the pot is not known: only how it cooled can be judged.
        return LogJudgement(clean, heating, cooling, phases_of(courses), (), cooled)
    warm = warm_part(heating)
    return LogJudgement(
        clean,
        heating,
        cooling,
        phases_of(courses),
        agents_heated(bench, warm),
        (*heating_checks(bench, (warm,)), *cooled),
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
