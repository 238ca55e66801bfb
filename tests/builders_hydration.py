"""Short ways to hydrate a formula in tests of the engine, without the models of its agents."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Never
from unittest.mock import patch

import numpy as np
import pytest
from builders_engine import formula_of

from setwell.engine import pipeline
from setwell.engine.catalog import catalog_build
from setwell.engine.gelling.hydration import Hydration, hydrates, hydration
from setwell.engine.gelling.state import AgentInput
from setwell.engine.plan import plan_build

WHISK = "Whisk the powder with the sugar into the liquid\n"
SOFT = "500 g distilled water"
CELLULOSE = {"methylcellulose_A", "hpmc_E", "hpmc_F", "hpmc_K"}
CATALOG = catalog_build()


class Handed(Exception):  # noqa: N818 - it carries an answer
    """Ends the pipeline where it hands an agent to its model."""

    def __init__(self, agent: AgentInput) -> None:
        self.agent = agent


def hand_over(agent: AgentInput, *_: object) -> Never:
    raise Handed(agent)


def agent_input(
    *lines: str, steps: str, key: str = "", masses: Sequence[Sequence[float]] | None = None
) -> AgentInput:
    """Return what the model of the only agent is given; `key` puts another agent in its place."""
    plan = plan_build(formula_of(*lines, steps=steps), catalog=CATALOG, parts={})
    grams = plan.line_masses() if masses is None else np.array(masses, dtype=np.float64)
    with patch.object(pipeline, "agent_state", hand_over), pytest.raises(Handed) as caught:
        pipeline.batch_assess(plan, grams)
    return replace(caught.value.agent, key=key or caught.value.agent.key)


def dissolved(*lines: str, steps: str) -> Hydration:
    """Return what dissolves of the only agent of a formula."""
    return hydration(agent_input(*lines, steps=steps))


def verdict(found: Hydration) -> int:
    """Return whether enough dissolves."""
    return int(hydrates(found.fraction)[0])


def middle(found: Hydration) -> float:
    """Return the dissolved share of the first batch."""
    return float(found.fraction.value[0])
