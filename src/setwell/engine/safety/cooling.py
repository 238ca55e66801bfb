"""Was it cooled fast enough? The two stages of the food code, on the warmest place."""

from dataclasses import replace

import numpy as np

from setwell.engine.heat.course import Course
from setwell.engine.rules.bench import Bench
from setwell.engine.safety.acidity import Control, control_of
from setwell.engine.safety.cooling_clock import Arrival, Clock, Stage, clock_start, stage_of
from setwell.engine.safety.edges import Array, Edges, warmest_edges
from setwell.engine.safety.food_kind import food_kind
from setwell.engine.safety.results import Ruling, SafetyCheck
from setwell.errors import ModelError
from setwell.provenance import Estimate, evidence_join
from setwell.tables.rules import FoodCodeRule, food_code_rules
from setwell.units import duration_print, temperature_print
from setwell.units.temperature import KELVIN_OFFSET

# Warmer than any room: a record that begins so had been heated before [°C] (our judgment).
_HEATED_C = 35.0
# Rounding of a clock [min].
_ROUNDING = 1e-4
# What a computed course has to leave over; less is no pass (our judgment) [s].
COMPUTED_LEAST_LEFT_S = 60.0
_MODEL = "time on straight lines between the points"


def cooling_checks(bench: Bench | None, courses: tuple[Course, ...]) -> tuple[SafetyCheck, ...]:
    """Return what the food code says of a cooling, in two stages, or in one from the room.

    The warmest of the places counts. A stage passes when even the high edge is in time, fails
    when not even the low edge is, and cannot tell in between or while it is under way.
    Without a formula the food is taken to need control.
    """
    edges = warmest_edges(courses)
    control = None if bench is None else control_of(food_kind(bench))
    if was_hot(bench, edges):
        keys = ("cooling_first_stage", "cooling_total")
        return tuple(_check(food_code_rules()[key], edges, control) for key in keys)
    never_hot = _check(food_code_rules()["cooling_from_ambient"], edges, control)
    is_told = bench is not None and len(bench.steps) > 0
    return (never_hot if is_told else _unless_hot(never_hot),)


def _unless_hot(check: SafetyCheck) -> SafetyCheck:
    """Return a pass as "cannot tell": without the steps it may have been hot before the record."""
    if check.ruling is not Ruling.PASS:
        return check
    return replace(
        check,
        ruling=Ruling.CANNOT_TELL,
        text=f"{check.text} But whether it had been hot before is not known.",
        action="Give the formula with its steps, or read the whole cooling from the pot on.",
    )


def was_hot(bench: Bench | None, edges: Edges) -> bool:
    """True unless neither the record nor the steps ever have the food hot."""
    start_c = food_code_rules()["cooling_total"].start_temperature_c or 0.0
    peak = np.array([np.nan]) if bench is None else bench.state.process.peak_c
    by_steps = bool(np.any(np.nan_to_num(peak, nan=-1.0) >= start_c))
    by_record = edges.high.max() - KELVIN_OFFSET >= start_c
    begins = float(edges.high[0]) - KELVIN_OFFSET
    return bool(by_steps or by_record or begins > _HEATED_C)


def _check(rule: FoodCodeRule, edges: Edges, control: Control | None) -> SafetyCheck:
    low, middle, high = _stages(rule, edges)
    is_clear = edges.is_measured or high.left_s >= COMPUTED_LEAST_LEFT_S
    if high.arrival is Arrival.IN_TIME and is_clear and not edges.left_out:
        ruling = Ruling.PASS
    else:
        ruling = Ruling.FAIL if low.arrival is Arrival.LATE else Ruling.CANNOT_TELL
    return SafetyCheck(
        rule.key, "cooling", _title(rule), ruling,
        f"{edges.preface}{_told(rule, ruling, low, high, edges)}{_before(high)}"
        f"{f' {edges.left_out}' if edges.left_out else ''}"
        f"{_may_be_free(control)}{edges.remark}",
        _action(rule, ruling, high, edges), _margin(rule, low, middle, high), rule.section,
        f"Food Code {rule.edition}", edges.place,
        evidence_join([(rule.citation,), edges.evidence]), is_computed=not edges.is_measured,
    )  # fmt: skip


def _stages(rule: FoodCodeRule, edges: Edges) -> tuple[Stage, ...]:
    """Return the stage at best, in the middle and at worst.

    The error of a probe may be another one later: at worst the clock starts as early as any edge
    has it and the high edge arrives; at best it is the other way round. The edges of a computed
    course are a slow and a quick kitchen, each with a clock of its own.
    """
    clocks = tuple(_clock(rule, edges.seconds, curve) for curve in edges.three)
    if not edges.is_measured:
        return tuple(
            _stage(rule, edges.seconds, curve, clock)
            for curve, clock in zip(edges.three, clocks, strict=True)
        )
    known = [clock for clock in clocks if clock is not None]
    best = worst = None
    if len(known) == len(clocks):
        best = Clock(
            max(one.start_s for one in known), min(one.before_s for one in known),
            any(one.is_start_seen for one in known),
        )  # fmt: skip
        worst = Clock(
            min(one.start_s for one in known), max(one.before_s for one in known),
            all(one.is_start_seen for one in known),
        )  # fmt: skip
    return (
        _stage(rule, edges.seconds, edges.low, best),
        _stage(rule, edges.seconds, edges.middle, clocks[1]),
        _stage(rule, edges.seconds, edges.high, worst),
    )


def _clock(rule: FoodCodeRule, seconds: Array, kelvin: Array) -> Clock | None:
    if rule.start_temperature_c is None:
        # Never hot: the clock runs from the first reading.
        return Clock(float(seconds[0]), 0.0, is_start_seen=True)
    return clock_start(seconds, kelvin, rule.start_temperature_c)


def _stage(rule: FoodCodeRule, seconds: Array, kelvin: Array, clock: Clock | None) -> Stage:
    level, limit = _limits(rule)
    total = food_code_rules()["cooling_total"].time_s or limit
    window = limit if rule.start_temperature_c is None else total
    return stage_of(seconds, kelvin, clock, level_c=level, limit_s=limit, window_s=window)


def _limits(rule: FoodCodeRule) -> tuple[float, float]:
    if rule.temperature_c is None or rule.time_s is None:
        raise ModelError(f"The rule {rule.key} has no temperature or no time.")
    return rule.temperature_c, rule.time_s


def _title(rule: FoodCodeRule) -> str:
    return {
        "cooling_first_stage": "Cooled to 21 °C (70 °F)",
        "cooling_total": "Cooled to 5 °C (41 °F)",
        "cooling_from_ambient": "Chilled from the room to 5 °C (41 °F)",
    }[rule.key]


def _told(rule: FoodCodeRule, ruling: Ruling, low: Stage, high: Stage, edges: Edges) -> str:
    level, limit = _limits(rule)
    there, within = temperature_print(level), _spent(limit)
    since = "" if rule.start_temperature_c is None else (
        f" from {temperature_print(rule.start_temperature_c)}"
    )  # fmt: skip
    if not high.is_started:
        return f"Still {_now(edges)} at the end: the clock of {within}{since} has not started."
    if not high.is_start_seen:
        return _unseen(rule, low, high, edges)
    latest = "" if edges.is_measured else " at the latest"
    if ruling is Ruling.PASS:
        return (
            f"At {there} after {_spent(high.used_s)}{latest}{since}; {within} are "
            f"allowed, {_left(high.left_s)} to spare."
        )
    if ruling is Ruling.FAIL:
        took = f"Not at {there} before {_spent(low.used_s)}{since} were over"
        return f"{took}; {within} are allowed."
    if high.arrival is Arrival.OPEN:
        return (
            f"Under way: {_now(edges)} when the course ends, {_spent(high.used_s)} into the "
            f"{within}{since}. {_left(high.left_s)} left to reach {there}."
        )
    spent = f"{_spent(low.used_s)} to {_spent(high.used_s)}{since}"
    if high.arrival is Arrival.IN_TIME and edges.left_out:
        open_point = f"At {there} after {spent} if nothing else slows it"
    else:
        open_point = f"Too close to call: at {there} after {spent}"
    return f"{open_point}; {within} are allowed."


def _unseen(rule: FoodCodeRule, low: Stage, high: Stage, edges: Edges) -> str:
    """Say what a record is worth that begins after the clock had started."""
    level, limit = _limits(rule)
    begins = temperature_print(round(float(edges.middle[0]) - KELVIN_OFFSET, 1))
    hot = temperature_print(rule.start_temperature_c or 0.0)
    if low.arrival is Arrival.LATE:
        return (
            f"It took more than {_spent(low.used_s)} from {begins} alone; {_spent(limit)} from "
            f"{hot} are allowed."
        )
    reached = f"took {_spent(high.used_s)} more" if high.is_reached else "is not reached yet"
    return (
        f"The course begins at {begins}, when the clock from {hot} was running. "
        f"{temperature_print(level)} {reached}. It passes only if all of it takes no longer than "
        f"{_spent(limit)}: {_left(high.left_s)} are left for what came before"
        f"{'' if high.is_reached else ' and what is still to come'}."
    )


def _now(edges: Edges) -> str:
    return temperature_print(round(float(edges.middle[-1]) - KELVIN_OFFSET, 1))


def _spent(seconds: float) -> str:
    """Return a time that has gone by, rounded up to the minute."""
    return duration_print(np.ceil(seconds / 60.0 - _ROUNDING))


def _left(seconds: float) -> str:
    """Return a time that is left, rounded down to the minute."""
    return duration_print(np.floor(max(seconds, 0.0) / 60.0 + _ROUNDING))


def _before(stage: Stage) -> str:
    """Say that the food had cooled off once before its hottest moment."""
    if stage.before_s < 1.0:
        return ""
    return f" Of this, {_spent(stage.before_s)} lay before the hottest moment."


def _may_be_free(control: Control | None) -> str:
    if control is None or not control.may_be_free:
        return ""
    return (
        f" By table {control.likely.table}, cell “{control.likely.key}”, this food may need no "
        "control, so the rule may not apply; it is shown all the same."
    )


def _action(rule: FoodCodeRule, ruling: Ruling, high: Stage, edges: Edges) -> str:
    if ruling is Ruling.PASS:
        probed = "Keep the record."
        return probed if edges.is_measured else "Put a probe in the warmest spot to prove it."
    faster = "Shallow pans, an ice bath, smaller molds or moving air cool faster."
    if ruling is Ruling.FAIL and not edges.is_measured:
        return f"Do not cool it like this. {faster}"
    if ruling is Ruling.FAIL:
        again = (
            "Throw it away. "
            if rule.key != "cooling_first_stage"
            else "Reheat to 74 °C (165 °F) at once and cool anew if your local code allows it; "
            "otherwise throw it away. "
        )
        return again + faster
    return f"{_open_action(high, edges)} {faster}"


def _open_action(high: Stage, edges: Edges) -> str:
    """Return what settles a verdict that is open."""
    if high.arrival is Arrival.OPEN:
        return "Keep reading the warmest spot."
    if edges.left_out:
        return "Tell what is left out if you can, and prove it with a probe in the warmest spot."
    if edges.is_error_assumed:
        return "Check the probe in ice water and give its error: that may settle it."
    return "Measure the warmest spot."


def _margin(rule: FoodCodeRule, low: Stage, middle: Stage, high: Stage) -> Estimate | None:
    """Return the time to spare; a stage under way has none yet."""
    if middle.arrival is Arrival.OPEN:
        return None
    ends = [None if stage.arrival is Arrival.OPEN else stage.left_s / 60.0 for stage in (high, low)]
    return Estimate(middle.left_s / 60.0, "min", ends[0], ends[1], _MODEL, (rule.citation,))
