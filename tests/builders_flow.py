"""What an agent model is given, for tests of how liquids flow."""

from contextlib import suppress
from functools import cache
from typing import Any
from unittest.mock import patch

import numpy as np
from numpy.typing import NDArray

from setwell.domain.formula import formula_make
from setwell.engine import pipeline
from setwell.engine.catalog import Catalog, catalog_build
from setwell.engine.gelling.state import AgentInput
from setwell.engine.plan import plan_build
from setwell.engine.spans import Spans

COOKED = "Whisk in the powder\nHeat to 90 °C, hold 10 min, stirring\nCool to 20 °C"


class _ReachedError(Exception):
    """The agent is known; the rest of the batch is not wanted."""


@cache
def _catalog() -> Catalog:
    return catalog_build()


def agent_input(
    *lines: str, steps: str = COOKED, factors: NDArray[np.float64] | None = None, **fields: Any
) -> AgentInput:
    """Return the input of the first agent; `factors` (n, lines) multiplies the weighed masses."""
    formula = formula_make(title="Flow", ingredients="\n".join(lines), steps=steps, **fields)
    plan = plan_build(formula, catalog=_catalog(), parts={})
    masses = plan.line_masses() if factors is None else plan.line_masses() * factors
    found: list[AgentInput] = []

    def keep(agent: AgentInput, *_: object) -> None:
        found.append(agent)
        raise _ReachedError

    with patch.object(pipeline, "agent_state", keep), suppress(_ReachedError):
        pipeline.batch_assess(plan, masses)
    return found[0]


def exact_dose(agent: AgentInput) -> Spans:
    """Return the weighed dose as if all of it were dissolved."""
    return Spans.exact(agent.dose_pct)
