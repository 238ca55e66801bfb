"""What a log proves in one line: the law and the agents, the worse of both first."""

from collections.abc import Sequence

from setwell.engine.heat.results import AgentHeating
from setwell.engine.safety.overall import law_told, verdict_overall
from setwell.engine.safety.results import DEFERRAL, Ruling, SafetyCheck
from setwell.engine.verdict import Verdict

_RULINGS = {
    Verdict.YES: Ruling.PASS,
    Verdict.CANNOT_TELL: Ruling.CANNOT_TELL,
    Verdict.NO: Ruling.FAIL,
}
_WORSE = (Ruling.PASS, Ruling.CANNOT_TELL, Ruling.FAIL)


def log_summary(agents: Sequence[AgentHeating], checks: Sequence[SafetyCheck]) -> str:
    """Return all verdicts in one line: food that is safe but does not set is no pass."""
    return f"{_told(agents, checks)} {DEFERRAL}"


def _told(agents: Sequence[AgentHeating], checks: Sequence[SafetyCheck]) -> str:
    if not agents:
        return law_told(checks)
    hydration = max((_RULINGS[one.hydrates] for one in agents), key=_WORSE.index)
    names = ", ".join(one.name for one in agents if _RULINGS[one.hydrates] is hydration)
    first = f"{hydration.value.capitalize()}: hydration of {names}."
    if not checks:
        return first
    law = law_told(checks)
    if _WORSE.index(hydration) > _WORSE.index(verdict_overall(checks)):
        return f"{first} By the food code: {law[:1].lower()}{law[1:]}"
    return f"{law} Hydration of {names}: {hydration.value}."
