"""All agents together: does it set, how firm, and in which words."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.state import CANNOT_TELL, NO, YES, AgentState, Codes
from setwell.engine.spans import Spans

Array = NDArray[np.float64]

# Trade words of each modeled gel (common practice, no source).
CHARACTER: Mapping[str, tuple[str, ...]] = {
    "kappa_carrageenan": ("brittle", "short", "cuts clean"),
    "iota_carrageenan": ("soft", "elastic", "spreads"),
    "agar": ("brittle", "short", "firm to the bite"),
    "gelatin": ("elastic", "melts in the mouth"),
    "lambda_carrageenan": ("thickened", "creamy body"),
}


@dataclass(frozen=True, slots=True)
class TextureState:
    """The gel of n batches: set or not, summed modulus in Pa, and viscosity in Pa·s."""

    sets: Codes
    modulus: Spans | None
    viscosity: Spans | None
    is_all_modeled: bool


def texture_state(agents: Mapping[str, AgentState], doses: Mapping[str, Array]) -> TextureState:
    """Return the joint texture; moduli add up where no blend law is known yet."""
    count = len(next(iter(doses.values()))) if doses else 1
    gels = [agent for agent in agents.values() if agent.modulus is not None]
    thick = [agent.viscosity for agent in agents.values() if agent.viscosity is not None]
    sets = np.full(count, NO)
    for agent in agents.values():
        sets = np.maximum(sets, agent.sets)
    return TextureState(
        sets=np.asarray(sets, dtype=np.int8),
        modulus=_sum([_standing(a.modulus, a.sets) for a in gels if a.modulus]) if gels else None,
        viscosity=_sum(thick) if thick else None,
        is_all_modeled=all(agent.is_modeled for agent in agents.values()),
    )


def _standing(modulus: Spans, sets: Codes) -> Spans:
    """Return a modulus as far as its agent gels: nothing where it does not."""
    surely = (sets == YES).astype(np.float64)
    maybe = (sets >= CANNOT_TELL).astype(np.float64)
    return Spans(modulus.value * maybe, modulus.low * surely, modulus.high * maybe)


def _sum(parts: list[Spans]) -> Spans:
    total = parts[0]
    for part in parts[1:]:
        total = Spans(*(a + b for a, b in zip(total, part, strict=True)))
    return total
