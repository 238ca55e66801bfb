"""What industry measures a heat treatment by: equivalent minutes at 70 and at 90 °C."""

from setwell.engine.safety.edges import Edges
from setwell.engine.safety.holds import time_print
from setwell.engine.safety.results import Basis, Ruling, SafetyCheck
from setwell.provenance import Citation, Estimate, Evidence, evidence_join
from setwell.science.lethality.segments import lethality
from setwell.tables.rules import LethalityTarget, lethality_targets
from setwell.units import temperature_print
from setwell.units.temperature import KELVIN_OFFSET

_MODEL = "lethality of exact segments"


def target_checks(edges: Edges) -> tuple[SafetyCheck, ...]:
    """Return how a course stands to the targets of industry; none of them is US law."""
    return tuple(
        _check(target, edges)
        for target in lethality_targets().values()
        if target.reference_c is not None
    )


def equivalent_minutes(target: LethalityTarget, edges: Edges) -> tuple[float, float, float]:
    """Return the time at the reference that the three curves are worth [min]: low to high.

    Nothing colder than the lowest temperature of the target counts.
    """
    if target.reference_c is None or target.z_c is None or target.lowest_c is None:
        return 0.0, 0.0, 0.0
    low, middle, high = (
        float(
            lethality(
                edges.seconds,
                curve,
                reference_temperature=target.reference_c + KELVIN_OFFSET,
                z_value=target.z_c,
                z_value_above=target.z_above_c,
                lowest=target.lowest_c + KELVIN_OFFSET,
            )
        )
        / 60.0
        for curve in edges.three
    )
    return low, middle, high


def _check(target: LethalityTarget, edges: Edges) -> SafetyCheck:
    low, middle, high = equivalent_minutes(target, edges)
    needs = target.target_min or 0.0
    ruling = Ruling.PASS if low >= needs else Ruling.FAIL if high < needs else Ruling.CANNOT_TELL
    evidence: Evidence = (target.citation,)
    reference = temperature_print(target.reference_c or 0.0)
    told = (
        f"Worth {_worth(low)} at {reference} at the safe end; {time_print(60.0 * needs)} are "
        f"asked, for {target.aim}."
    )
    return SafetyCheck(
        target.key, "industry target", target.name, ruling,
        f"{edges.preface}{told} Not US law.{edges.remark}",
        _action(ruling, f"{reference} for {time_print(60.0 * needs)}"),
        Estimate(middle - needs, "min", low - needs, high - needs, _MODEL, evidence),
        "no section: a target of industry", _edition(target.citation), edges.place,
        evidence_join([evidence, edges.evidence]), Basis.TARGET, not edges.is_measured,
    )  # fmt: skip


def _worth(minutes: float) -> str:
    return "more than 1000 min" if minutes > 1000.0 else time_print(60.0 * minutes)


def _edition(citation: Citation) -> str:
    return citation.locator


def _action(ruling: Ruling, needs: str) -> str:
    if ruling is Ruling.PASS:
        return "Nothing to do."
    return f"Only if you want to meet it: {needs} in the coldest spot, or as much by other heat."
