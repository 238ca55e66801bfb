"""Hours on the way up: no rule times a heating, and bacteria do not know that."""

import numpy as np

from setwell.engine.safety.edges import Edges
from setwell.engine.safety.results import Basis, Ruling, SafetyCheck
from setwell.provenance import evidence_join
from setwell.science.lethality.clocks import stretches_at_or_above, time_within
from setwell.tables.rules import food_code_rules
from setwell.units import duration_print, temperature_print
from setwell.units.temperature import KELVIN_OFFSET

_ROUNDING_K = 1e-9


def slow_warming_checks(edges: Edges) -> tuple[SafetyCheck, ...]:
    """Return a remark where food spent longer between cold and hot than it may without control.

    The code sets no time for a heating, so it decides nothing: the toxin of staphylococci may be
    there already, and no later heat destroys it.
    """
    rules = food_code_rules()
    cold_c = rules["cold_holding"].temperature_c or 0.0
    hot_c, clock = rules["hot_holding"].temperature_c or 0.0, rules["time_control_4h"]
    hot = stretches_at_or_above(edges.seconds, edges.low, hot_c + KELVIN_OFFSET - _ROUNDING_K)
    if not len(hot.begins):
        return ()
    end = float(hot.begins[0])
    before = edges.seconds[edges.seconds < end]
    times = np.concatenate([before, [end]])
    spent = time_within(
        times, np.interp(times, edges.seconds, edges.low),
        low=cold_c + KELVIN_OFFSET, high=hot_c + KELVIN_OFFSET,
    )  # fmt: skip
    if spent <= (clock.time_s or 0.0):
        return ()
    most = duration_print((clock.time_s or 0.0) / 60.0)
    return (
        SafetyCheck(
            "slow_warming", "time as control", "Slow warming", Ruling.CANNOT_TELL,
            f"{edges.preface}{duration_print(spent / 60.0)} between {temperature_print(cold_c)} "
            f"and {temperature_print(hot_c)} on the way up. No rule times a heating, but food out "
            f"of control for more than {most} is thrown away, and the toxin of staphylococci "
            f"survives the pot.{edges.remark}",
            "Heat faster, in smaller amounts, or start from a hot base. If the probe lay in the "
            "room before, begin the log when it goes in.",
            None, clock.section, f"Food Code {clock.edition}", edges.place,
            evidence_join([(clock.citation,), edges.evidence]), Basis.INFORMATION,
            not edges.is_measured,
        ),
    )  # fmt: skip
