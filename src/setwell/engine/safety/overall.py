"""All checks in one word and one line."""

from collections.abc import Sequence

from setwell.engine.safety.results import DEFERRAL, Basis, Ruling, SafetyCheck


def verdict_overall(checks: Sequence[SafetyCheck]) -> Ruling:
    """Return the worst ruling among the checks that are law for a kitchen.

    Targets of industry, rules for plants and information never decide. No check at all is
    "cannot tell".
    """
    rulings = {check.ruling for check in checks if check.basis is Basis.LAW}
    if not rulings or Ruling.CANNOT_TELL in rulings:
        return Ruling.FAIL if Ruling.FAIL in rulings else Ruling.CANNOT_TELL
    return Ruling.FAIL if Ruling.FAIL in rulings else Ruling.PASS


def summary_line(checks: Sequence[SafetyCheck]) -> str:
    """Return the verdict in one line: what decides it, and who decides in the end."""
    return f"{law_told(checks)} {DEFERRAL}"


def law_told(checks: Sequence[SafetyCheck]) -> str:
    """Return the verdict of the law and what decides it."""
    ruling = verdict_overall(checks)
    law = [check for check in checks if check.basis is Basis.LAW]
    named = ", ".join(_inside(check.title) for check in law if check.ruling is ruling)
    if not law:
        return "Cannot tell: none of the food-code rules here applies."
    if ruling is Ruling.PASS:
        computed = " as computed, not yet measured" if any(c.is_computed for c in law) else ""
        return f"Pass{computed}: {named}."
    return f"{ruling.value.capitalize()}: {named}."


def _inside(title: str) -> str:
    """Return a title as it stands within a sentence; degrees keep their letters."""
    return title[:1].lower() + title[1:]
