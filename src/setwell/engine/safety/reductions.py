"""How many of each pathogen a heating leaves alive: decimal reductions with their range."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from setwell.engine.safety.edges import Array, Edges
from setwell.engine.safety.food_kind import FoodKind
from setwell.engine.safety.results import Basis, RowRuling, Ruling, SafetyCheck
from setwell.provenance import Citation, Estimate, Grade, evidence_join
from setwell.science.lethality.resistance import log_reduction
from setwell.science.lethality.segments import lethality
from setwell.tables.rules import ResistanceRow, lethality_targets, resistance_rows
from setwell.units import temperature_print
from setwell.units.temperature import KELVIN_OFFSET

# No line of reduction times is to be drawn further past what was tested [°C].
EXTRAPOLATION_C = 5.56
_THOMAS = Citation("thomas_1966", "abstract: 5.56 °C (10 °F) at most", Grade.MEASURED)
_MODEL = "lethality of exact segments over the decimal reduction time"
_BEYOND = "beyond the tested range"
_ORGANISMS = {
    "salmonella": "Salmonella",
    "salmonella_senftenberg": "Salmonella Senftenberg 775W, an upper bound",
    "staphylococcus": "Staphylococcus aureus",
    "listeria": "Listeria monocytogenes",
    "ecoli": "E. coli O157:H7",
}
_TOXIN = " Its toxin survives this heat: time out of temperature counts too."


def reduction_checks(kind: FoodKind, edges: Edges) -> tuple[SafetyCheck, ...]:
    """Return the decimal reductions of every pathogen that was tested in a food like this."""
    checks = []
    for organism, name in _ORGANISMS.items():
        foods = set(_foods(organism, kind))
        rows = [
            row for row in resistance_rows()
            if row.organism == organism and row.food in foods and row.is_counted
        ]  # fmt: skip
        if rows:
            checks.append(_check(organism, name, rows, edges))
    return tuple(checks)


def _foods(organism: str, kind: FoodKind) -> Iterator[str]:
    """Yield the media that stand for this food; with sugar the protected one, never the plain."""
    is_custard = kind.has_egg and kind.has_dairy
    if organism in {"salmonella_senftenberg", "staphylococcus"} and is_custard:
        yield "custard"
    if organism == "salmonella" and kind.has_egg:
        yield from _egg_media(kind)
    if organism == "listeria" and kind.has_yolk:
        yield "yolk_salt" if kind.is_salt_protected else "yolk"
    if organism == "listeria" and kind.has_egg and not kind.has_yolk:
        yield "white"
    if organism == "listeria" and kind.has_dairy and kind.rich_because:
        yield "ice_cream_mix"
    if organism == "ecoli" and kind.is_acid and kind.has_fruit:
        yield "juice"
    if organism != "salmonella_senftenberg" and kind.has_dairy and not kind.has_egg:
        yield "milk"


def _egg_media(kind: FoodKind) -> Iterator[str]:
    if kind.has_dairy:
        yield "custard"
    if not kind.has_yolk:
        yield "white_sugar" if kind.is_sugar_protected else "white"
    elif kind.is_salt_protected:
        yield "yolk_salt"
    elif kind.is_sugar_protected:
        yield "yolk_sugar"
    elif kind.yolk > 0.0 or kind.liquid_egg == "yolk":
        yield "yolk"
    else:
        yield from ("whole", "whole_milk" if kind.has_dairy else "whole")
    if kind.liquid_egg == "fortified":
        yield "fortified"


def _check(organism: str, name: str, rows: list[ResistanceRow], edges: Edges) -> SafetyCheck:
    target = lethality_targets()["salmonella_log"]
    found = [(row, reductions(row, edges)) for row in rows]
    row, least = min(found, key=lambda one: one[1].low or 0.0)
    judged = tuple(_ruled(one, logs, target.target_log) for one, logs in found)
    margin = _spread(found, least, target.target_log)
    ruling = _ruling(margin)
    toxin = _TOXIN if organism == "staphylococcus" else ""
    told = (
        f"{log_print(least)} log reductions, counted on the safe side; {target.target_log:g} are "
        f"the benchmark. Counted with {_medium(row)}."
    )
    return SafetyCheck(
        f"reduction_{organism}", "log reductions", name, ruling,
        f"{edges.preface}{told}{_beyond(least, row)}{toxin}{edges.remark}",
        _action(ruling), margin, "no section: a benchmark", target.name, edges.place,
        evidence_join([*(logs.evidence for _, logs in found), (_THOMAS, target.citation),
                       edges.evidence]),
        Basis.TARGET, not edges.is_measured, judged,
    )  # fmt: skip


def reductions(row: ResistanceRow, edges: Edges) -> Estimate:
    """Return the decimal reductions of one pathogen over a course.

    Nothing counts below the lowest temperature tested. The low end counts the low edge of the
    course, the longest reduction time, the worse z, and no more than 5.56 °C past the tests.
    """
    top = row.tested_high_c + EXTRAPOLATION_C + KELVIN_OFFSET
    z, low_z, high_z = (value or np.inf for value in (row.z_c, row.z_low_c, row.z_high_c))
    least = min(_logs(row, edges.low, edges, one, row.d_high_min, top) for one in (low_z, high_z))
    most = max(_logs(row, edges.high, edges, one, row.d_low_min, np.inf) for one in (low_z, high_z))
    middle = _logs(row, edges.middle, edges, z, row.d_min, np.inf)
    is_beyond = bool(edges.middle.max() > top)
    return Estimate(
        middle, "log", least, None if row.bound and most > 0.0 else most, _MODEL, (row.citation,),
        (_BEYOND,) if is_beyond else (),
    )  # fmt: skip


def _logs(
    row: ResistanceRow, kelvin: Array, edges: Edges, z: float, d_min: float, top: float
) -> float:
    spent = lethality(
        edges.seconds,
        kelvin,
        reference_temperature=row.reference_c + KELVIN_OFFSET,
        z_value=z,
        lowest=row.tested_low_c + KELVIN_OFFSET,
        highest=top,
    )
    return float(log_reduction(spent, reference_time=60.0 * d_min))


def _ruled(row: ResistanceRow, logs: Estimate, target: float) -> RowRuling:
    ruling = _ruling(_over(logs, target))
    return RowRuling(row.key, _medium(row), ruling, None, None, (row.citation,), logs)


def _ruling(margin: Estimate) -> Ruling:
    if margin.low is not None and margin.low >= 0.0:
        return Ruling.PASS
    fails = margin.high is not None and margin.high < 0.0
    return Ruling.FAIL if fails else Ruling.CANNOT_TELL


def _over(logs: Estimate, target: float) -> Estimate:
    """Return how many reductions are left over the target."""
    low, high = (None if end is None else end - target for end in (logs.low, logs.high))
    return Estimate(logs.value - target, "log", low, high, _MODEL, logs.evidence, logs.flags)


def _spread(
    found: list[tuple[ResistanceRow, Estimate]], least: Estimate, target: float
) -> Estimate:
    """Return what the worst row leaves over, up to what the best one does.

    A row that is only a bound does not speak for the best end while another row does.
    """
    sure = [logs.high for row, logs in found if not row.bound]
    ends = sure or [logs.high for _, logs in found]
    most = None if None in ends else max(end for end in ends if end is not None)
    value = least.value if most is None else min(least.value, most)
    return _over(replace(least, value=value, high=most), target)


def _medium(row: ResistanceRow) -> str:
    """Return what a row was measured on and what it says."""
    z = f", z {row.z_c:g} °C" if row.z_c else ", no z printed"
    bound = f"{row.bound} " if row.bound else ""
    at = temperature_print(row.reference_c)
    return f"{row.strain} in {row.medium}: D {bound}{_d_print(row.d_min)} at {at}{z}"


def _d_print(minutes: float) -> str:
    return f"{60.0 * minutes:.2g} s" if minutes < 0.1 else f"{minutes:.3g} min"


def log_print(logs: Estimate) -> str:
    """Return the decimal reductions at the safe end; beyond a dozen the number means nothing."""
    low = logs.low or 0.0
    return "More than 12" if low > 12.0 else f"{low:.1f}"


def _beyond(logs: Estimate, row: ResistanceRow) -> str:
    if _BEYOND not in logs.flags:
        return ""
    most = temperature_print(round(row.tested_high_c + EXTRAPOLATION_C, 1))
    return f" It got hotter than the tests; at the safe end more than {most} counts as {most}."


def _action(ruling: Ruling) -> str:
    if ruling is Ruling.PASS:
        return "Nothing to do."
    return "Hold longer or hotter. The legal rows decide; this is the number behind them."
