"""What a probe log says, in words: for pages, commands and files alike."""

from setwell.engine.probe.results import LogPhase, PhaseKind
from setwell.engine.safety.results import Ruling, SafetyCheck
from setwell.engine.verdict import Verdict
from setwell.units import duration_print, temperature_change_print, temperature_print

RULINGS = {
    Ruling.PASS: "Pass",
    Ruling.FAIL: "Fail",
    Ruling.CANNOT_TELL: "Cannot tell",
}
RULING_ICONS = {Ruling.PASS: "good", Ruling.FAIL: "stop", Ruling.CANNOT_TELL: "unsure"}
HYDRATES = {
    Verdict.YES: "hot enough",
    Verdict.NO: "not hot enough",
    Verdict.CANNOT_TELL: "cannot tell",
}
_DOING = {
    PhaseKind.HEATING: "Heating",
    PhaseKind.HOLDING: "Holding",
    PhaseKind.COOLING: "Cooling",
}


def phase_told(phase: LogPhase) -> str:
    """Return a phase as one line: what, how long, and between which temperatures."""
    took = duration_print((phase.end_s - phase.start_s) / 60.0)
    begin, end = (temperature_print(round(value)) for value in (phase.start_c, phase.end_c))
    way = f"near {end}" if phase.kind is PhaseKind.HOLDING else f"{begin} to {end}"
    return f"{_DOING[phase.kind]} for {took}, {way}, from {moment_told(phase.start_s)} on"


def moment_told(seconds: float) -> str:
    """Return a moment of a log, counted from its first sample."""
    return "the start" if seconds <= 0 else duration_print(seconds / 60.0)


def margin_told(check: SafetyCheck) -> str:
    """Return the margin of a verdict at its safe end, with its unit; empty where none is told."""
    margin = check.margin
    if margin is None:
        return ""
    value = margin.value if margin.low is None else margin.low
    size, sign = abs(value), "" if value >= 0 else "short by "
    if margin.unit == "min":
        return f"{sign}{duration_print(size)}"
    if margin.unit == "°C":
        return f"{sign}{temperature_change_print(round(size, 1))}"
    if margin.unit == "log":
        return f"{sign}{'more than 12' if size > 12 else f'{size:.1f}'} log reductions"
    return f"{sign}{size:.3g} {margin.unit}"
