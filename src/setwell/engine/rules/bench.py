"""What the rules look at, and what they give back."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from setwell.domain.formula import Formula
from setwell.domain.steps import Step
from setwell.engine.assessment import Finding, Severity
from setwell.engine.pipeline import AgentColumns, BatchState
from setwell.engine.plan import Plan
from setwell.provenance import Citation, Evidence, Grade

Mask = NDArray[np.bool_]

PRACTICE: Evidence = (Citation("common_practice", "common practice, no source", Grade.ESTIMATED),)


@dataclass(frozen=True, slots=True)
class Bench:
    """A plan, its steps and the computed state of n candidates."""

    plan: Plan
    steps: tuple[Step, ...]
    state: BatchState
    agents: Mapping[str, AgentColumns]

    @property
    def formula(self) -> Formula:
        """The formula behind the plan."""
        return self.plan.formula

    def name(self, agent: str) -> str:
        """Return the name an agent goes by in this formula."""
        return self.agents[agent].materials[0].name

    def lines_of(self, agent: str) -> tuple[int, ...]:
        """Return the line numbers of an agent."""
        return self.agents[agent].lines


Telling = Callable[[int], tuple[str, str, str]]


@dataclass(frozen=True, slots=True)
class Hit:
    """A rule with the candidates it holds for; `tell(row)` gives title, text and action."""

    code: str
    severity: Severity
    mask: Mask
    tell: Telling
    lines: tuple[int, ...] = ()
    steps: tuple[int, ...] = ()
    evidence: Evidence = ()

    def finding(self, row: int) -> Finding:
        """Return what the rule says about one candidate."""
        title, text, action = self.tell(row)
        return Finding(
            self.code, self.severity, title, text, action, self.lines, self.steps, self.evidence
        )


Rule = Callable[[Bench], Iterable[Hit]]


def always(bench: Bench, is_true: object = "yes") -> Mask:
    """Return a mask for what is the same for all candidates."""
    return np.full(len(bench.state.masses), bool(is_true))


def said(title: str, text: str, action: str) -> Telling:
    """Return a telling that is the same for every candidate."""
    return lambda _row: (title, text, action)
