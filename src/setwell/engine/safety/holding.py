"""Was it held hot or cold enough, and if not, how much of the time allowed without is used?"""

from dataclasses import replace
from enum import StrEnum

import numpy as np

from setwell.engine.heat.course import Course
from setwell.engine.rules.bench import Bench
from setwell.engine.safety.acidity import control_of
from setwell.engine.safety.edges import Array, Edges, coldest_edges, warmest_edges
from setwell.engine.safety.food_kind import food_kind
from setwell.engine.safety.results import Basis, Ruling, SafetyCheck
from setwell.provenance import Estimate, evidence_join
from setwell.science.lethality.clocks import stretches_at_or_above, time_within
from setwell.tables.rules import FoodCodeRule, food_code_rules
from setwell.units import duration_print, temperature_print
from setwell.units.temperature import KELVIN_OFFSET

# A record that begins warmer than this is taken for hot holding (our judgment) [°C].
_MIDWAY_C = 31.0
_ROUNDING_K = 1e-9
_MODEL = "warmest or coldest point of the course"
_TIME_NOTE = (
    " Only with a written plan and the time marked before it left control; once out, the clock "
    "never goes back."
)


class Holding(StrEnum):
    """How food is kept."""

    HOT = "hot"
    COLD = "cold"


def holding_checks(
    bench: Bench, courses: tuple[Course, ...], *, holding: Holding | None = None
) -> tuple[SafetyCheck, ...]:
    """Return whether food was kept hot or cold enough, and the clocks of time without control.

    Of hot food the coldest place counts, of cold food the warmest. Without being told, a record
    that begins above 31 °C is hot holding.
    """
    warmest, coldest = warmest_edges(courses), coldest_edges(courses)
    if holding is None:
        is_hot = float(warmest.middle[0]) - KELVIN_OFFSET > _MIDWAY_C
        holding = Holding.HOT if is_hot else Holding.COLD
    rules = food_code_rules()
    kept = (
        _hot(rules["hot_holding"], coldest)
        if holding is Holding.HOT
        else _cold(rules["cold_holding"], warmest)
    )
    out = [_time(rules["time_control_4h"], holding, coldest, warmest)]
    if holding is Holding.COLD:
        out.append(_time(rules["time_control_6h"], holding, coldest, warmest))
    free = control_of(food_kind(bench)).may_be_free
    remark = " This food may need no control by its pH and water activity." if free else ""
    return tuple(_with(check, remark) for check in (kept, *out))


def _with(check: SafetyCheck, remark: str) -> SafetyCheck:
    return replace(check, text=check.text + remark) if remark else check


def _hot(rule: FoodCodeRule, edges: Edges) -> SafetyCheck:
    level = rule.temperature_c or 0.0
    spare = [float(curve.min()) - KELVIN_OFFSET - level for curve in edges.three]
    out = time_within(
        edges.seconds, edges.low, low=-np.inf, high=level + KELVIN_OFFSET - _ROUNDING_K
    )
    margin = Estimate(spare[1], "°C", spare[0], spare[2], _MODEL, (rule.citation,))
    return _kept(rule, "Held hot", "coldest", spare[0] + level, out, margin, edges)


def _cold(rule: FoodCodeRule, edges: Edges) -> SafetyCheck:
    level = rule.temperature_c or 0.0
    low, middle, high = (level - float(c.max()) + KELVIN_OFFSET for c in edges.three)
    above = stretches_at_or_above(edges.seconds, edges.high, level + KELVIN_OFFSET + _ROUNDING_K)
    margin = Estimate(middle, "°C", high, low, _MODEL, (rule.citation,))
    out = float(above.lasts.sum())
    return _kept(rule, "Held cold", "warmest", level - high, out, margin, edges)


def _kept(
    rule: FoodCodeRule,
    title: str,
    extreme: str,
    worst_c: float,
    out_s: float,
    margin: Estimate,
    edges: Edges,
) -> SafetyCheck:
    ruling = _ruling(margin)
    limit = temperature_print(rule.temperature_c or 0.0)
    beyond = f", {duration_print(out_s / 60.0)} beyond it" if out_s > 0 else ""
    # Rounded to the bad side, so that a miss by a hair does not read like the limit itself.
    tenths = 10.0 * worst_c
    rounded = np.floor(tenths + 1e-6) if extreme == "coldest" else np.ceil(tenths - 1e-6)
    worst = temperature_print(float(rounded) / 10.0)
    said = f"At its {extreme} {worst}; the limit is {limit}{beyond}."
    actions = {
        Ruling.PASS: "Keep the record.",
        Ruling.FAIL: f"Bring it back to {limit} only within the time below; else throw it away.",
        Ruling.CANNOT_TELL: "Check the probe in ice water and move the food well inside the limit.",
    }
    return SafetyCheck(
        rule.key, "holding", title, ruling, f"{edges.preface}{said}{edges.remark}",
        actions[ruling], margin, rule.section, f"Food Code {rule.edition}", edges.place,
        evidence_join([(rule.citation,), edges.evidence]), is_computed=not edges.is_measured,
    )  # fmt: skip


def _ruling(margin: Estimate) -> Ruling:
    if margin.low is not None and margin.low >= -_ROUNDING_K:
        return Ruling.PASS
    fails = margin.high is not None and margin.high < -_ROUNDING_K
    return Ruling.FAIL if fails else Ruling.CANNOT_TELL


def _time(rule: FoodCodeRule, holding: Holding, coldest: Edges, warmest: Edges) -> SafetyCheck:
    """Time instead of temperature: counted from the first moment out, to the end of the record."""
    edges = coldest if holding is Holding.HOT else warmest
    end = float(edges.seconds[-1])
    left = [_out(curve, edges.seconds, holding) for curve in edges.three]
    outs = sorted((0.0 if begins is None else end - begins for begins in left), reverse=True)
    limit = rule.time_s or 0.0
    highest = float(warmest.high.max()) - KELVIN_OFFSET
    # The longer clock is only for cold food that never gets warm.
    is_barred = rule.start_temperature_c is not None and highest > (rule.temperature_c or 0.0)
    margin = Estimate(
        (limit - outs[1]) / 60.0, "min", (limit - outs[0]) / 60.0, (limit - outs[2]) / 60.0,
        "time from the first moment out of control", (rule.citation,),
    )  # fmt: skip
    ruling = Ruling.FAIL if is_barred else _ruling(margin)
    is_seen = _out(edges.middle[:1], edges.seconds[:1], holding) is None
    if ruling is Ruling.PASS and not is_seen:
        ruling = Ruling.CANNOT_TELL
    most = duration_print(limit / 60.0)
    said = f"Out of control for {duration_print(outs[0] / 60.0)}; {most} are allowed."
    if not is_seen:
        said += " It was out of control when the record began, so more may have gone by."
    if is_barred:
        peak, bar = (temperature_print(round(c, 1)) for c in (highest, rule.temperature_c or 0.0))
        said += f" Not for this food: it got to {peak}, and {bar} is the limit."
    return SafetyCheck(
        rule.key, "time as control", f"Time without control, {most}", ruling,
        f"{edges.preface}{said}{_TIME_NOTE}{edges.remark}",
        "Serve it or throw it away when the time is over.", margin, rule.section,
        f"Food Code {rule.edition}", edges.place,
        evidence_join([(rule.citation,), edges.evidence]), Basis.INFORMATION,
        not edges.is_measured,
    )  # fmt: skip


def _out(kelvin: Array, seconds: Array, holding: Holding) -> float | None:
    """Return the first moment out of control [s]; None when it never leaves it."""
    rules = food_code_rules()
    if holding is Holding.HOT:
        level = (rules["hot_holding"].temperature_c or 0.0) + KELVIN_OFFSET - _ROUNDING_K
        out = stretches_at_or_above(seconds, -kelvin, -level)
    else:
        level = (rules["cold_holding"].temperature_c or 0.0) + KELVIN_OFFSET + _ROUNDING_K
        out = stretches_at_or_above(seconds, kelvin, level)
    return float(out.begins[0]) if len(out.begins) else None
