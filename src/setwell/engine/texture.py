"""All agents together: does it set, how firm, how far it bends, how it flows and looks."""

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.blends import blend
from setwell.engine.gelling.pair import Kitchen, Mix, Note
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

Array = NDArray[np.float64]

# Two setting temperatures closer than this are one [K].
_ONE_STEP_K = 3.0
# An agent that brings this share of the stiffness carries the gel when it thaws or melts.
CARRIES = 0.2
# A mouthful reaches about this, and never more (common practice, no source) [°C].
MOUTH_C = (34.0, 37.0)
# Fat and milk protein at which a liquid is two thirds opaque (our judgment) [kg/kg].
_HAZE_FAT, _HAZE_PROTEIN = 0.004, 0.006


@dataclass(frozen=True, slots=True)
class TextureState:
    """The texture of n batches at serving temperature; temperatures in °C.

    `shares` and `flow_shares` are each agent's part of the stiffness and of the thickness.
    `first_set_c` is where the first agent sets on cooling, `second_set_c` where another follows
    clearly later (NaN where none does), `half_set_c` where half of the stiffness has set (NaN
    where that needs no cooling). `melt_c` is where the last agent that carries the gel
    melts, `stands_c` up to where half of the stiffness still stands (infinite where it never
    melts). `haze` runs from 0 (clear) to 1 (opaque), `weeps_pct`
    is the water given off in a week in the fridge. `melts_in_mouth` and `frozen` are codes.
    """

    sets: Codes
    gel: Gel | None = None
    flow: Flow | None = None
    first_set_c: Spans | None = None
    second_set_c: Spans | None = None
    melt_c: Spans | None = None
    stands_c: Spans | None = None
    melts_in_mouth: Codes | None = None
    haze: Spans | None = None
    weeps_pct: Spans | None = None
    frozen: Codes | None = None
    shares: Mapping[str, Array] = field(default_factory=dict)
    flow_shares: Mapping[str, Array] = field(default_factory=dict)
    notes: tuple[Note, ...] = ()
    half_set_c: Spans | None = None

    @property
    def modulus(self) -> Spans | None:
        """The shear modulus [Pa]."""
        return None if self.gel is None else self.gel.modulus


def texture_state(
    agents: Mapping[str, AgentState], kitchen: Kitchen, fat_share: Array
) -> TextureState:
    """Return the joint texture of n batches."""
    count = len(kitchen.milk_protein)
    if not agents:
        return TextureState(np.full(count, NO))
    mix = blend(agents, kitchen)
    joints = mix.joints.values()
    sets = np.max([*mix.sets.values(), *(joint.sets for joint in joints)], axis=0)
    gel, shares = _gel(mix)
    flow, flow_shares = _flow(mix)
    first, second = _sets_at(mix)
    melt = _melts_at(mix, shares)
    return TextureState(
        sets=np.asarray(sets, dtype=np.int8),
        gel=gel,
        flow=flow,
        first_set_c=first,
        second_set_c=second,
        melt_c=melt,
        stands_c=_stands_to(mix),
        melts_in_mouth=None if melt is None else _in_mouth(melt),
        haze=_haze(mix, fat_share),
        weeps_pct=_weeps(mix, shares),
        frozen=_frozen(mix, shares, flow_shares),
        shares=shares,
        flow_shares=flow_shares,
        notes=tuple(mix.notes),
        half_set_c=_half_set_at(mix),
    )


def _gel(mix: Mix) -> tuple[Gel | None, dict[str, Array]]:
    """Return the gels as one: stiffness and stress added, strain by share of the stiffness."""
    parts = [*mix.gels.values(), *(joint.gel for joint in mix.joints.values())]
    if not parts:
        return None, {}
    modulus = _sum([part.modulus for part in parts])
    stress = _sum([part.fracture_stress for part in parts])
    total = np.where(modulus.value > 0, modulus.value, 1.0)
    even = modulus.value <= 0
    weights = [np.where(even, 1.0 / len(parts), p.modulus.value / total) for p in parts]
    strain = Spans(
        *(
            np.exp(
                sum(
                    weight * np.log(np.clip(part.fracture_strain[side], 1e-3, None))
                    for weight, part in zip(weights, parts, strict=True)
                )
            )
            for side in range(3)
        )
    )
    shares = {key: gel.modulus.value / total for key, gel in mix.gels.items()}
    for pair, joint in mix.joints.items():
        for key in pair:
            shares[key] = shares.get(key, 0.0) + 0.5 * joint.gel.modulus.value / total
    return Gel(modulus, stress, strain), shares


def _flow(mix: Mix) -> tuple[Flow | None, dict[str, Array]]:
    """Return the joint flow: what each agent adds to the liquid, added up."""
    flows = mix.flows
    if not flows:
        return None, {}
    # Each base leaves out its own powder only: the thickest has the bulkiest others in it.
    base = np.max([flow.base for flow in flows.values()], axis=0)
    rates = next(iter(flows.values())).rates
    joint = Flow(_sum([flow.added for flow in flows.values()]), base, rates)
    above = {key: flow.at(STIRRING_RATE).value - flow.base for key, flow in flows.items()}
    whole = np.clip(sum(above.values()), 1e-12, None)
    return joint, {key: part / whole for key, part in above.items()}


def _sets_at(mix: Mix) -> tuple[Spans | None, Spans | None]:
    """Return where the first agent sets on cooling, and the second where one follows."""
    cooling = [
        (agent.set_c, mix.sets[key] > NO)
        for key, agent in mix.agents.items()
        if agent.set_c is not None and agent.sets_on is SetsOn.COOLING
    ]
    cooling += [(joint.set_c, joint.sets > NO) for joint in mix.joints.values()]
    if not cooling:
        return None, None
    stack = np.stack([np.where(mask, np.stack(spans), np.nan) for spans, mask in cooling])
    order = np.argsort(-np.nan_to_num(stack[:, 0], nan=-np.inf), axis=0, kind="stable")
    rows = np.arange(mix.count)
    first = Spans(*stack[order[0], :, rows].T)
    if len(cooling) == 1:
        return first, None
    second = stack[order[1], :, rows].T
    apart = first.value - second[0] > _ONE_STEP_K
    return first, Spans(*(np.where(apart, part, np.nan) for part in second))


def _half_set_at(mix: Mix) -> Spans | None:
    """Return at which temperature half of the stiffness has set on cooling."""
    endless = Spans.exact(np.full(mix.count, np.inf))
    found = _half(
        mix,
        [
            (
                agent.set_c if agent.set_c and agent.sets_on is SetsOn.COOLING else endless,
                mix.gels[key].modulus.value,
            )
            for key, agent in mix.agents.items()
            if key in mix.gels
        ]
        + [(joint.set_c, joint.gel.modulus.value) for joint in mix.joints.values()],
    )
    if found is None:
        return None
    value = np.where(np.isinf(found.value), np.nan, found.value)
    # Where an end is carried by what needs no cooling, the middle stands for it.
    low = np.where(np.isfinite(found.low), np.minimum(found.low, value), value)
    return Spans(value, low, np.fmax(found.high, value))


def _melts_at(mix: Mix, shares: Mapping[str, Array]) -> Spans | None:
    """Return where the most heat-proof agent that carries the gel melts."""
    endless = Spans.exact(np.full(mix.count, np.inf))
    found = [
        (agent.melt_c or endless, (mix.sets[key] > NO) & (shares.get(key, 0.0) >= CARRIES))
        for key, agent in mix.agents.items()
        if agent.gel is not None and agent.sets_on is not SetsOn.HEATING
    ]
    found += [(joint.melt_c, joint.sets > NO) for joint in mix.joints.values()]
    if not found:
        return None
    stack = np.stack([np.where(mask, np.stack(spans), -np.inf) for spans, mask in found])
    best = stack.max(axis=0)
    return Spans(*np.where(np.isneginf(best), np.nan, best))


def _stands_to(mix: Mix) -> Spans | None:
    """Return up to which temperature at least half of the stiffness stands."""
    endless = Spans.exact(np.full(mix.count, np.inf))
    parts = [
        (agent.melt_c or endless, mix.gels[key].modulus.value)
        for key, agent in mix.agents.items()
        if key in mix.gels and agent.sets_on is not SetsOn.HEATING
    ]
    parts += [(joint.melt_c, joint.gel.modulus.value) for joint in mix.joints.values()]
    return _half(mix, parts)


def _half(mix: Mix, parts: list[tuple[Spans, Array]]) -> Spans | None:
    """Return up to which of their temperatures parts of half of the whole stiffness reach."""
    if not parts:
        return None
    gels = [*mix.gels.values(), *(joint.gel for joint in mix.joints.values())]
    total = np.sum([gel.modulus.value for gel in gels], axis=0)
    sides = [
        stands_to([at[side] for at, _ in parts], [stiff for _, stiff in parts], total)
        for side in range(3)
    ]
    return Spans(*(np.where(np.isneginf(side), np.nan, side) for side in sides))


def stands_to(melts: list[Array], moduli: list[Array], total: Array) -> Array:
    """Return the highest melting temperature at which gels of half the total stiffness stand.

    Minus infinite where they never add up to half of it, or nothing is stiff.
    """
    best = np.full(np.broadcast_shapes(*(m.shape for m in (*melts, *moduli))), -np.inf)
    for melt in melts:
        left = sum(np.where(other >= melt, stiff, 0.0)
                   for other, stiff in zip(melts, moduli, strict=True))  # fmt: skip
        best = np.maximum(best, np.where((left >= 0.5 * total) & (total > 0), melt, -np.inf))
    return best


def _in_mouth(melt: Spans) -> Codes:
    """Return whether the gel melts in the mouth."""
    yes, no = melt.high <= MOUTH_C[0], melt.low >= MOUTH_C[1]
    return np.where(yes, YES, np.where(no, NO, CANNOT_TELL)).astype(np.int8)


def light_through(fat_share: Array, milk_protein: Array) -> Array:
    """Return the share of light that passes fat and milk protein, from 0 to 1."""
    return np.asarray(np.exp(-fat_share / _HAZE_FAT - milk_protein / _HAZE_PROTEIN))


def _haze(mix: Mix, fat_share: Array) -> Spans:
    """Return the haze of agents, fat and milk protein together: what passes all of them."""
    clear = light_through(fat_share, mix.kitchen.milk_protein)
    passes = [clear, clear, clear]
    for agent in mix.agents.values():
        if agent.haze is not None:
            passes = [p * (1.0 - part) for p, part in zip(passes, agent.haze, strict=True)]
    return Spans(*(1.0 - part for part in passes))


def _weeps(mix: Mix, shares: Mapping[str, Array]) -> Spans | None:
    """Return the water given off, by share of the stiffness, less what a partner binds."""
    weeping = {
        key: agent.weeps_pct.scaled(np.asarray(mix.weeping.get(key, 1.0)) * shares[key])
        for key, agent in mix.agents.items()
        if agent.weeps_pct is not None and key in shares
    }
    return _sum(list(weeping.values())) if weeping else None


def _frozen(
    mix: Mix, shares: Mapping[str, Array], flow_shares: Mapping[str, Array]
) -> Codes | None:
    """Return whether it comes through freezing: the weakest agent that carries it decides.

    A gel is carried by what makes it stiff, a sauce by what makes it thick.
    """
    is_gel = sum(shares.values(), np.zeros(mix.count)) > 0
    ones = np.ones(mix.count)
    known = [
        np.where(
            np.where(is_gel, shares.get(key, ones), flow_shares.get(key, ones)) >= CARRIES,
            agent.frozen,
            YES,
        )
        for key, agent in mix.agents.items()
        if agent.frozen is not None
    ]
    return np.asarray(np.min(known, axis=0), dtype=np.int8) if known else None


def _sum(parts: list[Spans]) -> Spans:
    total = parts[0]
    for part in parts[1:]:
        total = Spans(*(a + b for a, b in zip(total, part, strict=True)))
    return total
