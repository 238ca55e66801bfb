"""What kappa and iota need besides dose and cold: not too sour, and water enough."""

import numpy as np

from setwell.engine.gelling.parameters import parameter
from setwell.engine.gelling.state import CANNOT_TELL, YES, AgentInput, Condition
from setwell.engine.spans import Spans

_KAPPA = "kappa_carrageenan"


def acid_condition(agent: AgentInput) -> Condition:
    """Return whether the batch is mild enough; nobody can promise a set below pH 4."""
    least = parameter(_KAPPA, "ph_gelling_low").value
    found = agent.water.ph
    sour = (found.value < least) & agent.water.has_ph
    holds = np.where(sour, CANNOT_TELL, YES).astype(np.int8)
    return Condition("acid", holds, found, "pH", f"pH {least:g} or more")


def sugar_condition(agent: AgentInput) -> Condition:
    """Return whether enough free water is left for the network."""
    most = parameter(_KAPPA, "sugar_network_limit")
    found: Spans = agent.water.brix
    holds = np.where(found.high > most.low, CANNOT_TELL, YES).astype(np.int8)
    return Condition("sugar", holds, found, "°Bx", f"no more than {most.low:g} °Bx")
