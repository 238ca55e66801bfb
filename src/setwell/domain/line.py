"""What an ingredient line was read as."""

from dataclasses import dataclass

from setwell.domain.amounts import Amount
from setwell.domain.problems import LineProblem


@dataclass(frozen=True, slots=True)
class Line:
    """An ingredient line as read; `text` is what was typed, to the letter.

    A line with a `problem` has no usable amount: show the problem and leave it out.
    `stated_grams` is a weight given beside a volume or count, and wins over it.
    `ratio_with_agent` is grams of this ingredient per gram of agent.
    """

    text: str
    amount: Amount | None
    name: str
    note: str = ""
    stated_grams: float | None = None
    ratio_with_agent: float | None = None
    hints: frozenset[str] = frozenset()
    problem: LineProblem | None = None
