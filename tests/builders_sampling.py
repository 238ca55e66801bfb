"""Cups drawn from a model's own parameters by a fixed Halton sequence, to test its ranges."""

from statistics import NormalDist
from typing import Any, NamedTuple

import numpy as np
from builders_gels import input_of

from setwell.engine.gelling.doubt import UNCORRECTED
from setwell.engine.gelling.finish import finish
from setwell.engine.gelling.models import AGENT_MODELS
from setwell.engine.gelling.parameters import Parameter
from setwell.engine.gelling.state import AgentInput, AgentState

# Middle, low and high; what else a figure has is not looked at.
Span = tuple[Any, ...]
CUPS = 16_384
PRIMES = (2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37, 41, 43, 47, 53)
KAPPA, IOTA, GELATIN, AGAR, XANTHAN = (
    "kappa_carrageenan", "iota_carrageenan", "gelatin", "agar", "xanthan",
)  # fmt: skip
COOKED = "Whisk the powder with the sugar into the cold liquid\nBoil 2 min, stirring\nChill to 4 °C"
RIPENED = "Bloom the gelatin\nWarm to 60 °C, stirring\nChill to 4 °C\nRest 12 h"
MILK = ("500 g whole milk", "30 g sugar")
WATER = ("500 g water", "30 g sugar")
POTS = {
    KAPPA: ((*MILK, "2 g kappa carrageenan"), COOKED),
    IOTA: ((*MILK, "3 g iota carrageenan"), COOKED),
    GELATIN: ((*WATER, "12 g gelatin (200 bloom)"), RIPENED),
    AGAR: ((*WATER, "5 g agar"), COOKED),
    XANTHAN: ((*WATER, "2.5 g xanthan"), COOKED),
}


class Pot(NamedTuple):
    """One batch: what its model was given, what it says, and that with the doubt of its laws."""

    agent: AgentInput
    raw: AgentState
    done: AgentState


def pot(key: str) -> Pot:
    """Return the pot of an agent, as the ranges are tested in it."""
    lines, steps = POTS[key]
    agent = input_of(*lines, steps=steps)
    raw = AGENT_MODELS[key](agent)
    # As a part: at the temperature of the law, not softened by serving.
    return Pot(agent, raw, finish(raw, agent, UNCORRECTED, is_part=True))


def halton(columns: int) -> np.ndarray:
    """Return the Halton sequence, turned by a fixed amount in each column, (columns, CUPS)."""
    turns = np.random.default_rng(20).random(columns)
    rows = []
    for prime, turn in zip(PRIMES[:columns], turns, strict=True):
        index, place, out = np.arange(1, CUPS + 1), 1.0, np.zeros(CUPS)
        while index.any():
            place /= prime
            out += place * (index % prime)
            index //= prime
        rows.append((out + turn) % 1.0)
    return np.array(rows)


NORMALS = np.vectorize(NormalDist().inv_cdf)(np.clip(halton(len(PRIMES)), 1e-9, 1 - 1e-9))


class Drawn:
    """Inputs of many cups; each call takes the next column. With `middle` all stay put.

    `every` also draws what the ranges of the models leave out.
    """

    def __init__(self, *, middle: bool = False, every: bool = False) -> None:
        self._columns = iter(np.zeros((len(PRIMES), 1)) if middle else NORMALS)
        self.every = every

    def ratio(self, span: Span) -> np.ndarray:
        """Return values spread on the log axis, each side by its own width."""
        value, low, high = (float(np.ravel(part)[0]) for part in span[:3])
        z = next(self._columns)
        wide = np.where(z < 0, np.log(value / low), np.log(high / value))
        return value * np.exp(0.5 * z * wide)

    def left_out(self, span: Parameter) -> np.ndarray | float:
        """Return the value of a figure whose own range the model does not count."""
        return self.ratio(span) if self.every else span.value

    def level(self, span: Span) -> np.ndarray:
        """Return values spread on a straight axis, each side by its own width."""
        value, low, high = (float(np.ravel(part)[0]) for part in span[:3])
        z = next(self._columns)
        return value + 0.5 * z * np.where(z < 0, value - low, high - value)
