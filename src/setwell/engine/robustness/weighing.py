"""How the lines of a formula are measured out, and which of them are agents."""

from setwell.domain.amounts import AmountKind
from setwell.engine.plan import Plan
from setwell.tables.rules import spread

# A premix and a portion of it, each of twenty steps of the display: half a step twice.
PREMIX_STEPS = 20.0
PREMIX_ERROR = 2.0**0.5 * 0.5 / PREMIX_STEPS


def agent_rows_of(plan: Plan) -> frozenset[int]:
    """Return the rows of lines that are agents by themselves."""
    return frozenset(
        row
        for row, position in enumerate(plan.used)
        if (material := plan.readings[position].material) is not None and material.agent is not None
    )


def row_error(plan: Plan, row: int) -> float | None:
    """Return the log deviation of a line that is not weighed; None where a scale is used."""
    line = plan.readings[plan.used[row]].line
    if line.amount is None or line.stated_grams is not None:
        return None
    if line.amount.kind is AmountKind.VOLUME:
        return spread("cup_measure").value
    if line.amount.kind is AmountKind.COUNT:
        return spread("piece_weight").value
    return None
