"""What a log shows after the cooling: food that was cold and got warm again."""

import numpy as np

from setwell.engine.heat.course import Course
from setwell.engine.safety.cooling_clock import clock_start
from setwell.engine.safety.edges import Edges, warmest_edges
from setwell.engine.safety.results import Ruling, SafetyCheck
from setwell.science.lethality.clocks import stretches_at_or_above
from setwell.tables.rules import food_code_rules
from setwell.units import duration_print, temperature_print
from setwell.units.temperature import KELVIN_OFFSET

_ROUNDING_K = 1e-9


def afterwards_checks(warmest: Course, cooled: tuple[SafetyCheck, ...]) -> tuple[SafetyCheck, ...]:
    """Return a check where the food, or the probe, got warm once the cooling had passed.

    Above 5 °C for more than the hours that food may be out of control, or above 21 °C at all.
    """
    passed = {check.key for check in cooled if check.ruling is Ruling.PASS}
    key = next((one for one in ("cooling_total", "cooling_from_ambient") if one in passed), None)
    if key is None:
        return ()
    edges = warmest_edges((warmest,))
    later = edges.seconds >= _window_end(key, edges)
    if later.sum() < 2:
        return ()
    rules = food_code_rules()
    level = (rules["cold_holding"].temperature_c or 0.0) + KELVIN_OFFSET + _ROUNDING_K
    out = stretches_at_or_above(edges.seconds[later], edges.low[later], level)
    warmest_c = float(edges.middle[later].max()) - KELVIN_OFFSET
    spent, most = float(out.lasts.sum()), rules["time_control_4h"].time_s or 0.0
    if spent <= most and warmest_c <= (rules["time_control_6h"].temperature_c or 0.0):
        return ()
    since = float(out.begins[0]) if len(out.begins) else float(edges.seconds[later][0])
    return (_check(edges, since, spent, warmest_c),)


def _window_end(key: str, edges: Edges) -> float:
    rule = food_code_rules()[key]
    start = float(edges.seconds[0])
    if rule.start_temperature_c is not None:
        clock = clock_start(edges.seconds, edges.high, rule.start_temperature_c)
        start = start if clock is None else clock.start_s - clock.before_s
    return start + (rule.time_s or 0.0)


def _check(edges: Edges, since: float, spent: float, warmest_c: float) -> SafetyCheck:
    rule = food_code_rules()["cold_holding"]
    limit = temperature_print(rule.temperature_c or 0.0)
    begins = duration_print((since - float(edges.seconds[0])) / 60.0)
    peak = temperature_print(float(np.ceil(10.0 * warmest_c - 1e-6)) / 10.0)
    return SafetyCheck(
        "after_cooling", "holding", "Cold after the cooling", Ruling.CANNOT_TELL,
        f"After {begins} it shows more than {limit} for {duration_print(spent / 60.0)}, up to "
        f"{peak}. The cooling before is judged; what came then is not: the probe taken out, food "
        f"left warm, a second batch or a reheating.{edges.remark}",
        "If the food itself was warm for more than 4 hours, throw it away. Give a second batch "
        "or a reheating a file of its own.",
        None, rule.section, f"Food Code {rule.edition}", edges.place, (rule.citation,),
    )  # fmt: skip
