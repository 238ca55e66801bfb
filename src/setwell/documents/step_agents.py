"""Which agents are in the pot at a step, by their names in it."""

import re
from collections.abc import Iterable

from setwell.domain.steps import Step, StepKind
from setwell.engine.assessment import AgentResult, LineReading
from setwell.engine.names import name_normalize
from setwell.tables.agents import agent_rows

_TAKES_IN = frozenset({StepKind.ADD, StepKind.DISPERSE, StepKind.MIX, StepKind.BLEND})
_POWDERS = re.compile(r"\b(?:powders?|gums?|agents?|dry mix|dry blend)\b", re.IGNORECASE)
# Shorter words, such as "gum" or "HM", name no agent by themselves.
_LETTERS = 4


def enters(
    agent: AgentResult,
    texts: tuple[str, ...],
    read: tuple[tuple[Step, ...], ...],
    lines: Iterable[LineReading],
) -> int:
    """Return the first step that names an agent, or the powders; the start when none does."""
    names = (
        agent.name,
        agent_rows()[agent.key].short_name,
        *(line.name for line in lines if line.number in agent.lines),
    )
    words = {name_normalize(name) for name in names}
    words |= {name.split()[0] for name in words if name}
    named = (n for n, text in enumerate(texts) if _holds(text, words))
    powders = (n for n, steps in enumerate(read) if any(map(_takes_powders_in, steps)))
    return next(named, next(powders, 0))


def _holds(text: str, words: Iterable[str]) -> bool:
    said = f" {name_normalize(text)} "
    return any(f" {word} " in said for word in words if len(word) >= _LETTERS)


def _takes_powders_in(step: Step) -> bool:
    return step.kind in _TAKES_IN and _POWDERS.search(step.text) is not None


def names_joined(agents: Iterable[AgentResult], *, is_first: bool = False) -> str:
    """Return the names as a sentence has them."""
    names = [agent_rows()[agent.key].short_name.split(",")[0] for agent in agents]
    text = ", ".join(names[:-1]) + (" and " if len(names) > 1 else "") + names[-1]
    return text[:1].upper() + text[1:] if is_first else text
