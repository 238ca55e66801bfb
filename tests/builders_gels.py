"""Agent states and inputs of small batches, for tests of the gel models."""

from unittest.mock import patch

import numpy as np
from builders_engine import formula_of

from setwell.engine import pipeline
from setwell.engine.catalog import catalog_build
from setwell.engine.gelling.models import agent_state
from setwell.engine.gelling.state import AgentInput, AgentState
from setwell.engine.material import Span
from setwell.engine.plan import plan_build

CATALOG = catalog_build()


def input_of(
    *lines: str, steps: str, masses: np.ndarray | None = None, ph: float | None = None,
    **fields: object,
) -> AgentInput:  # fmt: skip
    """Return what the model of the last agent of a formula is given; `masses` is (n, lines)."""
    plan = plan_build(formula_of(*lines, steps=steps, **fields), catalog=CATALOG, parts={})
    given: list[AgentInput] = []

    def keep(agent: AgentInput, *rest: object) -> AgentState:
        given.append(agent)
        return agent_state(agent, *rest)

    measured = None if ph is None else Span(ph, ph - 0.1, ph + 0.1)
    with patch.object(pipeline, "agent_state", keep):
        pipeline.batch_assess(
            plan, plan.line_masses() if masses is None else masses, measured_ph=measured
        )
    return given[-1]


def state_of(*lines: str, steps: str, ph: float | None = None, **fields: object) -> AgentState:
    """Return the finished state of the last agent of a formula."""
    return agent_state(input_of(*lines, steps=steps, ph=ph, **fields))
