"""What the formula itself leaves open: unread lines, impossible amounts, no agent."""

from collections.abc import Iterable

from setwell.engine.assessment import Severity
from setwell.engine.rules.bench import Bench, Hit, always, said


def unread_lines(bench: Bench) -> Iterable[Hit]:
    """Say which lines are not counted."""
    left_out = tuple(r.number for r in bench.plan.readings if not r.is_usable)
    if left_out:
        count = len(left_out)
        what = "1 line is" if count == 1 else f"{count} lines are"
        yield Hit(
            "unread_lines", Severity.STOP, always(bench),
            said(f"{what} not counted",
                 "Everything below is computed without "
                 f"{'it' if count == 1 else 'them'}, so it may be wrong.",
                 "Correct the marked lines."),
            left_out,
        )  # fmt: skip


def unread_inside(bench: Bench) -> Iterable[Hit]:
    """Say which formulas used as ingredients are themselves not fully read."""
    told = bench.plan.unread_inside()
    if told:
        more = f" And {len(told) - 1} more like this." if len(told) > 1 else ""
        yield Hit(
            "unread_inside", Severity.STOP, always(bench),
            said("A formula used here is not fully counted",
                 f"{told[0][1]}{more} What is left out is missing from everything below, "
                 "allergens too.",
                 "Open that formula and correct its marked lines."),
            tuple(dict.fromkeys(number for number, _ in told)),
        )  # fmt: skip


def impossible_amounts(bench: Bench) -> Iterable[Hit]:
    """Say which percentages or targets cannot be met."""
    for problem in bench.plan.problems:
        yield Hit(
            "impossible_amounts", Severity.STOP, always(bench),
            said("The amounts do not fit together", problem, "Change the amounts named here."),
        )  # fmt: skip


def no_agent(bench: Bench) -> Iterable[Hit]:
    """Say when there is no texture agent."""
    if bench.plan.used and not bench.agents:
        yield Hit(
            "no_agent", Severity.NOTE, always(bench),
            said("No texture agent yet", "Nothing in this formula is known to gel or thicken it.",
                 "Add one, for example 0.6% kappa carrageenan, or see the agent chart."),
        )  # fmt: skip
