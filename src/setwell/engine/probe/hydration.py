"""Whether the coldest probe got each agent hot enough for long enough."""

import numpy as np

from setwell.engine.gelling.hydration_rate import kinetics
from setwell.engine.heat.course import Course
from setwell.engine.heat.results import AgentHeating, Moment
from setwell.engine.probe.results import Array
from setwell.engine.rules.bench import Bench
from setwell.engine.rules.dispersion import needed_c
from setwell.engine.verdict import Verdict
from setwell.errors import MissingDataError
from setwell.provenance import Estimate, Evidence
from setwell.science.lethality.clocks import longest_hold, stretches_at_or_above
from setwell.tables.agents import agent_rows
from setwell.units import duration_print, temperature_print

# The hold of these in the tables is their bloom in cold water; warm, they melt at once.
_BLOOMED = frozenset({"gelatin", "gelatin_fish_cold"})
# A log that begins this warm and only cools from there began after the pot [°C], [K].
_WARM_C = 45.0
_ALREADY_K = 1.0
_MODEL = "first moment on straight lines between the samples"


def agents_heated(bench: Bench, coldest: Course) -> tuple[AgentHeating, ...]:
    """Return the verdict on every agent that only dissolves hot."""
    return tuple(_heated(bench, key, coldest) for key in bench.agents if _is_hot(key))


def _is_hot(key: str) -> bool:
    try:
        return kinetics(key).needs_heat
    except MissingDataError:
        return False


def _heated(bench: Bench, key: str, coldest: Course) -> AgentHeating:
    needs_c = needed_c(key)
    hold = _hold(key)
    name = bench.name(key)
    curves = (coldest.low_c, coldest.celsius, coldest.high_c)
    held = [max(longest_hold(coldest.seconds, one, needs_c), 0.0) / 60.0 for one in curves]
    touched = [bool((one >= needs_c).any()) for one in curves]
    sure, may = (held[0] >= hold[1]) and touched[0], (held[2] >= hold[0]) and touched[2]
    # A log that ends hot may have gone on: what came then is not known.
    goes_on = float(coldest.high_c[-1]) >= needs_c
    is_open = may or goes_on or _began_hot(coldest)
    verdict = Verdict.YES if sure else Verdict.CANNOT_TELL if is_open else Verdict.NO
    evidence = _evidence(key)
    return AgentHeating(
        key, name, needs_c, hold[1],
        _moment("reached", f"{name} hot enough", coldest, needs_c, 0.0, evidence),
        _moment("done", f"{name} held", coldest, needs_c, hold[1], evidence),
        verdict, _text(name, coldest, needs_c, hold, held, verdict),
    )  # fmt: skip


def _began_hot(coldest: Course) -> bool:
    """Tell whether the log begins at its hottest: the heating came before, and is not known."""
    first, peak = float(coldest.celsius[0]), float(coldest.celsius.max())
    return first >= _WARM_C and first >= peak - _ALREADY_K


def _hold(key: str) -> tuple[float, float]:
    """Return the shortest and the usual hold [min]."""
    if key in _BLOOMED:
        return 0.0, 0.0
    try:
        row = agent_rows()[key].figure("hydration_hold")
    except MissingDataError:
        return 0.0, 0.0
    return (row.value if row.low is None else row.low), row.value


def _evidence(key: str) -> Evidence:
    table = agent_rows()[key].properties
    names = ("whole_batch_temperature", "hydration_temperature", "hydration_hold")
    return tuple(dict.fromkeys(row.citation for name in names for row in table.get(name, ())))


def _moment(
    key: str, label: str, course: Course, level: float, hold_min: float, evidence: Evidence
) -> Moment:
    """Return when a temperature was held for so long first; the high edge is there first."""
    curves = (course.celsius, course.high_c, course.low_c)
    middle, early, late = (_first(course.seconds, one, level, 60.0 * hold_min) for one in curves)
    if middle is None:
        text = f"The coldest probe never shows {temperature_print(level)}"
        text += f" for {duration_print(hold_min)}." if hold_min else "."
        return Moment(key, label, None, text)
    estimate = Estimate(middle, "min", early, late, _MODEL, evidence)
    return Moment(key, label, estimate, f"After {duration_print(middle)}.")


def _first(seconds: Array, celsius: Array, level: float, hold_s: float) -> float | None:
    found = stretches_at_or_above(seconds, celsius, level)
    long = np.flatnonzero(found.lasts >= hold_s)
    return float(found.begins[long[0]] + hold_s - seconds[0]) / 60.0 if len(long) else None


def _text(
    name: str,
    coldest: Course,
    needs_c: float,
    hold: tuple[float, float],
    held: list[float],
    verdict: Verdict,
) -> str:
    wanted = temperature_print(needs_c)
    wanted += f" for {duration_print(hold[1])}" if hold[1] else ""
    peak = temperature_print(round(float(coldest.celsius.max()), 1))
    told = f"{name} wants {wanted}. The coldest probe reached {peak}"
    mean = duration_print(held[1])
    if verdict is Verdict.YES:
        kept = f", held {duration_print(held[0])} even if the probe reads high" if hold[1] else ""
        return f"{told}{kept}."
    told = f"{told} and held {mean} at {temperature_print(needs_c)} or more"
    if verdict is Verdict.NO:
        return f"{told}: not enough."
    if float(coldest.high_c[-1]) >= needs_c:
        return f"{told} when the log ends: what came then is not known."
    if held[2] < hold[0] and _began_hot(coldest):
        return f"{told} from where the log begins: how hot it was before is not known."
    return (
        f"{told}: too close to call with the error of the probe, the gaps and the range of the "
        "hold."
    )
