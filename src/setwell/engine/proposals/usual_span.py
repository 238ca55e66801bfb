"""How much of an agent is worth trying: from a trace of use to the most that any use takes."""

from functools import cache

from setwell.engine.substitution.search import usual_doses
from setwell.tables.agents import agent_rows

# Uses that a proposal never makes: no method here adds alkali.
_NEVER_MADE = frozenset({"alkali gel"})


@cache
def usual_span(key: str) -> tuple[float, float]:
    """Return the lowest and the highest percent that an agent is used at.

    The outer ends of the tables reach far beyond kitchens; where uses are listed, the highest
    of them ends the span.
    """
    low, high = usual_doses(key)
    uses = [
        row.high or row.value
        for row in agent_rows()[key].properties.get("dose_typical", ())
        if row.conditions not in _NEVER_MADE
    ]
    return low, min(high, max(uses)) if uses else high
