"""All agents together: does it set, how firm, how far it bends, how it flows."""

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.finish import cold_enough, standing
from setwell.engine.gelling.state import (
    CANNOT_TELL,
    NO,
    STIRRING_RATE,
    YES,
    AgentState,
    Codes,
    Flow,
    Gel,
    SetsOn,
)
from setwell.engine.spans import Spans
from setwell.provenance import Evidence

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
class BlendNote:
    """What is known, or assumed, of two agents together."""

    agents: tuple[str, ...]
    text: str
    evidence: Evidence
    is_known: bool = True


@dataclass(frozen=True, slots=True)
class TextureState:
    """The texture of n batches at serving temperature; temperatures in °C.

    `shares` and `flow_shares` are each agent's part of the modulus and of the thickness.
    `first_set_c` is where the first agent sets on cooling, `second_set_c` where another follows
    clearly later (NaN where none does).
    """

    sets: Codes
    gel: Gel | None = None
    flow: Flow | None = None
    first_set_c: Spans | None = None
    second_set_c: Spans | None = None
    melt_c: Spans | None = None
    haze: Spans | None = None
    weeps_pct: Spans | None = None
    frozen: Codes | None = None
    shares: Mapping[str, Array] = field(default_factory=dict)
    flow_shares: Mapping[str, Array] = field(default_factory=dict)
    notes: tuple[BlendNote, ...] = ()
    is_all_modeled: bool = True

    @property
    def modulus(self) -> Spans | None:
        """The shear modulus [Pa]."""
        return None if self.gel is None else self.gel.modulus


def texture_state(
    agents: Mapping[str, AgentState],
    doses: Mapping[str, Array],
    coldest_c: Array,
) -> TextureState:
    """Return the joint texture; stiffness adds up where no blend law is known."""
    count = len(next(iter(doses.values()))) if doses else 1
    together = _carrageenans_together(agents, coldest_c, count)
    each = {
        key: np.maximum(agent.sets, together) if key in _FAMILY else agent.sets
        for key, agent in agents.items()
    }
    sets = np.max([np.full(count, NO), *each.values()], axis=0)
    gels = {
        key: standing(agent.gel, each[key])
        for key, agent in agents.items()
        if agent.gel is not None
    }
    flows = {key: agent.flow for key, agent in agents.items() if agent.flow is not None}
    gel, shares = _gel(gels)
    flow, flow_shares = _flow(flows)
    first, second = _sets_at(agents, each, count)
    return TextureState(
        sets=np.asarray(sets, dtype=np.int8),
        gel=gel,
        flow=flow,
        first_set_c=first,
        second_set_c=second,
        shares=shares,
        flow_shares=flow_shares,
        is_all_modeled=all(agent.is_modeled for agent in agents.values()),
    )


def _gel(gels: Mapping[str, Gel]) -> tuple[Gel | None, dict[str, Array]]:
    if not gels:
        return None, {}
    modulus = _sum([gel.modulus for gel in gels.values()])
    stress = _sum([gel.fracture_stress for gel in gels.values()])
    total = np.where(modulus.value > 0, modulus.value, 1.0)
    shares = {key: gel.modulus.value / total for key, gel in gels.items()}
    even = modulus.value <= 0
    weights = {key: np.where(even, 1.0 / len(gels), share) for key, share in shares.items()}
    strain = Spans(
        *(
            np.exp(
                sum(
                    weights[key] * np.log(np.clip(gel.fracture_strain[part], 1e-3, None))
                    for key, gel in gels.items()
                )
            )
            for part in range(3)
        )
    )
    return Gel(modulus, stress, strain), shares


def _flow(flows: Mapping[str, Flow]) -> tuple[Flow | None, dict[str, Array]]:
    """Return the joint flow: what each agent adds to the liquid, added up."""
    if not flows:
        return None, {}
    total = _sum([flow.added for flow in flows.values()])
    joint = Flow(total, next(iter(flows.values())).base)
    above = {key: flow.at(STIRRING_RATE).value - flow.base for key, flow in flows.items()}
    whole = np.clip(sum(above.values()), 1e-12, None)
    return joint, {key: part / whole for key, part in above.items()}


def _sets_at(
    agents: Mapping[str, AgentState], each: Mapping[str, Codes], count: int
) -> tuple[Spans | None, Spans | None]:
    """Return where the first agent sets on cooling, and the second where one follows."""
    cooling = [
        (agent.set_c, each[key] > NO)
        for key, agent in agents.items()
        if agent.set_c is not None and agent.sets_on is SetsOn.COOLING
    ]
    if not cooling:
        return None, None
    stack = np.stack([np.where(mask, np.stack(spans), np.nan) for spans, mask in cooling])
    middle = np.nan_to_num(stack[:, 0], nan=-np.inf)
    order = np.argsort(-middle, axis=0, kind="stable")
    rows = np.arange(count)
    first = Spans(*stack[order[0], :, rows].T)
    if len(cooling) == 1:
        return first, None
    return first, Spans(*stack[order[1], :, rows].T)


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


def _sum(parts: list[Spans]) -> Spans:
    total = parts[0]
    for part in parts[1:]:
        total = Spans(*(a + b for a, b in zip(total, part, strict=True)))
    return total
