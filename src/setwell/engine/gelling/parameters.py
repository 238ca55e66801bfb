"""Parameters of the agent models, straight from the tables."""

from functools import cache
from typing import NamedTuple

import numpy as np

from setwell.engine.spans import Spans
from setwell.provenance import Citation, Evidence
from setwell.tables.agents import agent_rows


class Parameter(NamedTuple):
    """One table figure with its range; a blank bound repeats the value."""

    value: float
    low: float
    high: float
    citation: Citation


@cache
def parameter(agent: str, name: str, conditions: str = "") -> Parameter:
    """Return one figure of an agent."""
    row = agent_rows()[agent].figure(name, conditions)
    low = row.value if row.low is None else row.low
    high = row.value if row.high is None else row.high
    return Parameter(row.value, low, high, row.citation)


def evidence_of(*parameters: Parameter) -> Evidence:
    """Return the citations of some parameters, once each."""
    return tuple(dict.fromkeys(item.citation for item in parameters))


def constant(figure: Parameter, count: int) -> Spans:
    """Return a figure with its range for each of n batches."""
    return Spans(*(np.full(count, bound) for bound in figure[:3]))
