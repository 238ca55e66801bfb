"""All agents together: does it set, how firm, and in which words."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.state import CANNOT_TELL, NO, YES, AgentState, Codes, cold_enough
from setwell.engine.spans import Spans

Array = NDArray[np.float64]

_FAMILY = ("kappa_carrageenan", "iota_carrageenan")
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


def texture_state(
    agents: Mapping[str, AgentState], doses: Mapping[str, Array], coldest_c: Array
) -> TextureState:
    """Return the joint texture; moduli add up where no blend law is known yet."""
    count = len(next(iter(doses.values()))) if doses else 1
    thick = [agent.viscosity for agent in agents.values() if agent.viscosity is not None]
    together = _carrageenans_together(agents, coldest_c, count)
    each = {
        key: np.maximum(agent.sets, together) if key in _FAMILY else agent.sets
        for key, agent in agents.items()
    }
    sets = np.max([np.full(count, NO), *each.values()], axis=0)
    gels = [
        _standing(agent.modulus, each[key])
        for key, agent in agents.items()
        if agent.modulus is not None
    ]
    return TextureState(
        sets=np.asarray(sets, dtype=np.int8),
        modulus=_sum(gels) if gels else None,
        viscosity=_sum(thick) if thick else None,
        is_all_modeled=all(agent.is_modeled for agent in agents.values()),
    )


def _carrageenans_together(agents: Mapping[str, AgentState], coldest_c: Array, count: int) -> Codes:
    """Return whether kappa and iota gel on their common account.

    Each counts as the share of its own critical dose that it reaches; one gels at the sum of
    one. They set at different temperatures, so the colder of the two must be reached.
    """
    pair = [agents[key] for key in _FAMILY if key in agents]
    if len(pair) < len(_FAMILY):
        return np.full(count, NO)
    surely, perhaps, coldest = np.zeros(count), np.zeros(count), np.full(count, YES)
    for agent in pair:
        critical, set_c = agent.critical_pct, agent.set_c
        if critical is None or set_c is None:
            continue
        surely += agent.effective_pct.low / critical.high
        perhaps += agent.effective_pct.high / critical.low
        coldest = np.minimum(coldest, cold_enough(coldest_c, set_c))
    enough = np.where(surely >= 1.0, YES, np.where(perhaps < 1.0, NO, CANNOT_TELL))
    return np.asarray(np.minimum(enough, coldest), dtype=np.int8)


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
