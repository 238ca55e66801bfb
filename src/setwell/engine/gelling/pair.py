"""What pair laws work on: the gels of a batch, and what two agents say of each other."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.state import AgentState, Codes, Flow, Gel
from setwell.engine.spans import Spans
from setwell.provenance import Evidence
from setwell.tables.agents import BlendRow, blend_rows

Array = NDArray[np.float64]

# Less refined powders follow the laws of the pure agent.
KIN: Mapping[str, str] = {"processed_eucheuma": "kappa_carrageenan"}


class Kitchen(NamedTuple):
    """What the pair laws need of the batch: temperatures in °C, potassium in mmol/kg."""

    coldest_c: Array
    serving_c: Array
    potassium: Array
    ph: Spans
    milk_protein: Array


class Note(NamedTuple):
    """What is known of some agents together; `tell(row)` says it for one candidate."""

    agents: tuple[str, ...]
    tell: Callable[[int], str]
    evidence: Evidence
    is_known: bool = True


class JointGel(NamedTuple):
    """A gel that two agents form only together."""

    gel: Gel
    sets: Codes
    set_c: Spans
    melt_c: Spans


@dataclass(slots=True)
class Mix:
    """The agents of n batches on their way to one texture; laws change it pair by pair."""

    agents: Mapping[str, AgentState]
    sets: dict[str, Codes]
    kitchen: Kitchen
    gels: dict[str, Gel]
    joints: dict[tuple[str, str], JointGel] = field(default_factory=dict)
    flows: dict[str, Flow] = field(default_factory=dict)
    weeping: dict[str, Array] = field(default_factory=dict)
    notes: list[Note] = field(default_factory=list)

    @property
    def count(self) -> int:
        """The number of candidates."""
        return len(next(iter(self.sets.values())))

    def dose(self, key: str) -> Array:
        """Return the dose of an agent that works, (n,) in percent."""
        return self.agents[key].effective_pct.value

    def share(self, first: str, second: str) -> Array:
        """Return the share of the first in the working dose of both, (n,)."""
        a, b = self.dose(first), self.dose(second)
        total = a + b
        return np.divide(a, total, out=np.full_like(total, 0.5), where=total > 0)


def pair_row(first: str, second: str) -> tuple[BlendRow, str, str] | None:
    """Return the table row of a pair and its two agents in the order of the row."""
    a, b = KIN.get(first, first), KIN.get(second, second)
    rows = blend_rows()
    if (a, b) in rows:
        return rows[a, b], first, second
    if (b, a) in rows:
        return rows[b, a], second, first
    return None
