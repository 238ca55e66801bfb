"""Why an agent does not set, in one plain line."""

import numpy as np

from setwell.engine.gelling.state import CANNOT_TELL, NO, AgentState, SetsOn
from setwell.units import temperature_print

# A loss of strength that is told as the reason: half of it (our judgment).
_MOST_KEPT = 0.5


def only_thickens(agent: AgentState) -> bool:
    """Return whether no dose of an agent ever gels."""
    return agent.critical_pct is None or agent.sets_on is SetsOn.NOTHING


def why_no_gel(agent: AgentState, served_c: float) -> str:
    """Return why there is no gel in any of the batches of a state."""
    if only_thickens(agent):
        return "will not gel: it only thickens"
    if agent.sets_on is SetsOn.HEATING:
        return "gels while hot and is liquid again when served cold"
    needs = [
        (verb, condition.what, condition.need)
        for verb, code in (("does not", NO), ("may not", CANNOT_TELL))
        for condition in agent.conditions
        if (condition.holds <= code).all()
    ]
    if needs:
        verb, name, need = needs[0]
        # What has to be absent is told by its name.
        return f"{verb} set here: {name}" if need == "none" else f"{verb} set here: it needs {need}"
    return _spoiled(agent, served_c) or "does not set here at any dose tried"


def _spoiled(agent: AgentState, served_c: float) -> str:
    """Return what keeps a gel away that has all it needs; empty where nothing is known to."""
    if (agent.hydrates == NO).all():
        return "does not dissolve here"
    if _has_melted(agent, served_c):
        return f"has melted at {temperature_print(served_c)}"
    kept = float(np.max(agent.kept.share.value))
    if kept < _MOST_KEPT:
        return f"loses {100.0 * (1.0 - kept):.0f} % of its strength to acid and heat here"
    return ""


def _has_melted(agent: AgentState, served_c: float) -> bool:
    if agent.melt_c is None or np.isnan(agent.melt_c.value).all():
        return False
    return bool(np.nanmax(agent.melt_c.value) < served_c)
