"""Was it reheated for hot holding: hot enough, and soon enough?"""

import numpy as np

from setwell.engine.heat.course import Course
from setwell.engine.rules.bench import Bench
from setwell.engine.safety.edges import Array, Edges, coldest_edges
from setwell.engine.safety.heating import hold_check
from setwell.engine.safety.holds import HoldRow
from setwell.engine.safety.results import Ruling, SafetyCheck
from setwell.provenance import Estimate, evidence_join
from setwell.science.lethality.clocks import stretches_at_or_above
from setwell.tables.rules import FoodCodeRule, food_code_rules
from setwell.units import duration_print, temperature_print
from setwell.units.temperature import KELVIN_OFFSET

_MODEL = "time on straight lines between the points"
_ROUNDING_K = 1e-9


def reheating_checks(bench: Bench, courses: tuple[Course, ...]) -> tuple[SafetyCheck, ...]:
    """Return whether a reheating for hot holding was hot and fast enough, at the coldest place.

    It is the same for every food, so the bench does not change it.
    """
    del bench
    edges = coldest_edges(courses)
    rule, clock = (food_code_rules()[key] for key in ("reheat_hot_holding", "reheat_time_limit"))
    row = HoldRow(
        rule.key, rule.temperature_c or 0.0, rule.temperature_f or 0.0, rule.time_s or 0.0,
        rule.citation,
    )  # fmt: skip
    hot = hold_check(
        (row,), edges, key=rule.key, title="Reheated for hot holding", topic="reheating",
        section=rule.section, edition=f"Food Code {rule.edition}",
        note="For food cooked and cooled in house.",
    )  # fmt: skip
    return hot, _fast(clock, edges)


def _fast(rule: FoodCodeRule, edges: Edges) -> SafetyCheck:
    limit = rule.time_s or 0.0
    # The worst case leaves the cold with the high edge and gets hot with the low one.
    longest = _took(rule, edges.seconds, edges.high, edges.low)
    middle = _took(rule, edges.seconds, edges.middle, edges.middle)
    shortest = _took(rule, edges.seconds, edges.low, edges.high)
    # Food that was no longer cold when the record began has used part of the time before it.
    begins = float(edges.high[0]) - KELVIN_OFFSET
    is_seen = begins <= (rule.start_temperature_c or 0.0) + _ROUNDING_K
    if longest <= limit and is_seen:
        ruling = Ruling.PASS
    else:
        is_late = np.isfinite(shortest) and shortest > limit
        ruling = Ruling.FAIL if is_late else Ruling.CANNOT_TELL
    return SafetyCheck(
        rule.key, "reheating", "Reheated within the time", ruling,
        f"{edges.preface}{_told(rule, longest, edges, is_seen=is_seen)}{edges.remark}",
        "Keep the record." if ruling is Ruling.PASS
        else "Reheat in small, shallow amounts, stirring.",
        _margin(rule, shortest, middle, longest), rule.section, f"Food Code {rule.edition}",
        edges.place, evidence_join([(rule.citation,), edges.evidence]),
        is_computed=not edges.is_measured,
    )  # fmt: skip


def _took(rule: FoodCodeRule, seconds: Array, leaves: Array, arrives: Array) -> float:
    """Return the time from leaving the cold to being hot [s].

    Where the record ends before that it is the time so far if that is already too long, and
    infinite while nobody can tell.
    """
    hot = (rule.temperature_c or 0.0) + KELVIN_OFFSET - _ROUNDING_K
    cold = (rule.start_temperature_c or 0.0) + KELVIN_OFFSET + _ROUNDING_K
    warm = stretches_at_or_above(seconds, leaves, cold).begins
    begun = float(warm[0]) if len(warm) else float(seconds[-1])
    there = stretches_at_or_above(seconds, arrives, hot).begins
    if len(there):
        return max(float(there[0]) - begun, 0.0)
    over = float(seconds[-1]) - begun
    return np.inf if over <= (rule.time_s or 0.0) else over


def _told(rule: FoodCodeRule, longest: float, edges: Edges, *, is_seen: bool) -> str:
    hot, limit = temperature_print(rule.temperature_c or 0.0), (rule.time_s or 0.0) / 60.0
    is_there = edges.low.max() >= (rule.temperature_c or 0.0) + KELVIN_OFFSET - _ROUNDING_K
    took = (
        f"At {hot} after {duration_print(longest / 60.0)}"
        if is_there
        else f"Not yet at {hot} when the course ends"
    )
    seen = "" if is_seen else " It was no longer cold when the record began."
    return f"{took}; {duration_print(limit)} are allowed.{seen}"


def _margin(rule: FoodCodeRule, shortest: float, middle: float, longest: float) -> Estimate | None:
    if not np.isfinite(middle):
        return None
    low, value, high = (((rule.time_s or 0.0) - one) / 60.0 for one in (longest, middle, shortest))
    return Estimate(value, "min", low if np.isfinite(low) else None, high, _MODEL, (rule.citation,))
