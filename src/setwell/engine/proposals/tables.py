"""Every agent alone, over doses and helper salts: what a search puts together."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from setwell.domain.brief import Brief, Helper
from setwell.engine.blend_formula import BlendAgent
from setwell.engine.gelling.blends import blend
from setwell.engine.gelling.doubt import Corrections
from setwell.engine.gelling.pair import KIN, Kitchen
from setwell.engine.gelling.state import NO, YES, AgentState, Codes, Flow, SetsOn
from setwell.engine.milk_parting import MILK_SHARE
from setwell.engine.pipeline import BatchState, batch_assess
from setwell.engine.process import steps_read
from setwell.engine.proposals.afloat import listed, rating
from setwell.engine.proposals.base import BriefBase
from setwell.engine.proposals.draft import ProposalDraft
from setwell.engine.proposals.tabulated import ONE_RATE, DoseLaws, added_at_stirring, dose_laws
from setwell.engine.proposals.usual_span import usual_span
from setwell.engine.spans import Spans
from setwell.engine.texture import light_through

Array = NDArray[np.float64]

# Doses of a table, from a trace to more than usual; those from COUNTS on do something in any
# base, as parts of the usual dose (our judgment).
DOSES, COUNTS = 17, 3
_BELOW, _COUNTS_FROM, _ABOVE, _MOST_PCT = 0.2, 0.25, 1.5, 40.0
# Percent of potassium chloride, calcium lactate and trisodium citrate that are tried together
# (common practice, no source).
_LEVELS = (
    (0.0, 0.0, 0.0), (0.1, 0.0, 0.0), (0.2, 0.0, 0.0), (0.0, 0.1, 0.0), (0.0, 0.3, 0.0),
    (0.1, 0.1, 0.0), (0.0, 0.0, 0.1), (0.0, 0.3, 0.1),
)  # fmt: skip
# What a helper, a dose above the usual, each percent of powder, and a less refined powder than
# there is cost in the order (our judgment).
PER_HELPER, _PER_EXCESS, _PER_PERCENT, _LESS_REFINED = 0.06, 0.6, 0.02, 0.1


class Columns(NamedTuple):
    """One agent over helper levels and doses, each (levels, doses); as Predicted, and:

    `log_strain` of the strain at break, `added` and `liquid` of the thickness in mPa·s (NaN for
    `liquid` without a flow), `clear` the share of light that passes, `set_c`, `melt_c` and
    `stands_c` minus infinite where there is none, `is_always` 1 where freezing counts without a
    gel, `has_flow` 1 where it thickens by a law, `price` per kg of batch, `burden` what the dose
    costs in the order, `afloat` what is listed of the dose, before anything sets.
    """

    sets: Array
    modulus: Array
    stress: Array
    log_strain: Array
    added: Array
    liquid: Array
    set_c: Array
    melt_c: Array
    stands_c: Array
    clear: Array
    weeps: Array
    frozen: Array
    is_always: Array
    has_flow: Array
    price: Array
    burden: Array
    afloat: Array


@dataclass(frozen=True, slots=True)
class AgentTable:
    """One agent tabulated; `state`, `kitchen` and `fat_share` have levels times doses rows."""

    agent: BlendAgent
    doses_pct: Array
    state: AgentState
    laws: DoseLaws
    kitchen: Kitchen
    fat_share: Array
    columns: Columns


@dataclass(frozen=True, slots=True)
class HelperLevels:
    """The helper salts that are tried, in percent of the batch: (levels, helpers)."""

    names: tuple[str, ...]
    percents: Array


def helper_levels(helpers: tuple[str, ...]) -> HelperLevels:
    """Return the levels of those helpers that are allowed; the first is without any."""
    order = [one.value for one in Helper]
    allowed = [order.index(name) for name in order if name in helpers]
    barred = [n for n in range(len(order)) if n not in allowed]
    rows = [level for level in _LEVELS if not any(level[n] for n in barred)]
    table = np.array(rows, dtype=np.float64)[:, allowed].reshape(len(rows), len(allowed))
    return HelperLevels(tuple(order[n] for n in allowed), table)


def agent_table(
    base: BriefBase,
    brief: Brief,
    agent: BlendAgent,
    levels: HelperLevels,
    corrections: Mapping[str, Corrections] | None = None,
    most_pct: float = _MOST_PCT,
) -> AgentTable:
    """Return one agent alone in the base, from one pass over all doses and helper levels.

    No dose is above `most_pct` of the batch, as a law may have it.
    """
    draft = ProposalDraft(base, brief, (agent,), levels.names)
    plan = draft.plan()
    low, high = usual_span(agent.key)
    doses = _doses(low, high, most_pct, _listed_pct(agent.key) if brief.keeps_afloat else None)
    percents = np.concatenate(
        [np.tile(doses, len(levels.percents))[:, None],
         np.repeat(levels.percents, DOSES, axis=0)], axis=1
    )  # fmt: skip
    batch = batch_assess(
        plan,
        draft.rows(plan, percents),
        steps=steps_read(plan.formula.steps),
        corrections=corrections,
    )
    state = batch.agents[agent.key]
    laws = dose_laws(state, len(levels.percents))
    kitchen = _kitchen(batch)
    fat = batch.composition.share("fat_g")
    burden = _burden(agent.key, percents, high)
    return AgentTable(
        agent, doses, _plain(state, laws), laws, kitchen, fat,
        _columns(state, kitchen, percents[:, 0], percents[:, 0] * _price(base, agent) / 100.0,
                 burden, len(levels.percents)),
    )  # fmt: skip


def counts_from(low: float, high: float) -> float:
    """Return the dose in percent from which an agent used from low to high does something."""
    return _COUNTS_FROM * float(np.sqrt(low * high))


def _listed_pct(key: str) -> float | None:
    """Return the least dose listed for keeping particles afloat; None where none is."""
    return min((row.value for row in listed(key)), default=None)


def _doses(low: float, high: float, most_pct: float, listed_pct: float | None = None) -> Array:
    """Return the doses of a table in percent, for an agent used from low to high.

    A dose that is listed for what the brief asks is where doses begin to count.
    """
    most = min(_ABOVE * high, most_pct)
    counts = min(counts_from(low, high) if listed_pct is None else listed_pct, most / 4.0)
    traces = np.geomspace(min(_BELOW * low, counts / 2.0), counts, COUNTS + 1)
    return np.concatenate([traces[:-1], np.geomspace(counts, most, DOSES - COUNTS)])


def _kitchen(batch: BatchState) -> Kitchen:
    count = len(batch.masses)
    return Kitchen(
        coldest_c=np.broadcast_to(batch.process.coldest_c, (count,)),
        serving_c=batch.serving_c,
        potassium=batch.water.free.metals["potassium"].value,
        ph=batch.water.ph,
        milk_protein=batch.water.milk_protein_share,
    )


def _price(base: BriefBase, agent: BlendAgent) -> float:
    found = base.catalog.find(agent.line_name)
    price = None if found is None else found.material.cost_per_kg
    return np.nan if price is None else price


def dose_burden(percents: Array, high: Array) -> Array:
    """Return what doses cost in the order, with the highest usual dose of each; same shape."""
    over = np.log(np.maximum(percents / high, 1.0))
    return np.asarray(_PER_EXCESS * over + _PER_PERCENT * percents)


def _burden(key: str, percents: Array, high: float) -> Array:
    """Return what the agent and its helpers cost in the order."""
    kin = _LESS_REFINED if key in KIN else 0.0
    salts = PER_HELPER * (percents[:, 1:] > 0).sum(axis=1)
    return np.asarray(kin + dose_burden(percents[:, 0], np.array(high)) + salts)


def _plain(state: AgentState, laws: DoseLaws) -> AgentState:
    """Return the state with its laws as tables and its flow at one shear rate."""
    flow = state.flow
    if flow is not None:
        added = added_at_stirring(flow)[:, None]
        flow = Flow(Spans(added, added, added), flow.base, ONE_RATE)
    return replace(state, gel_at=laws.gel, sets_at=laws.sets, flow_at=laws.flow, flow=flow)


def _columns(
    state: AgentState,
    kitchen: Kitchen,
    percents: Array,
    price: Array,
    burden: Array,
    levels: int,
) -> Columns:
    mix = blend({state.key: state}, kitchen)
    sets, gel = mix.sets[state.key], mix.gels.get(state.key)
    count = len(sets)
    none, deep = np.zeros(count), np.full(count, -np.inf)
    is_cooled = state.sets_on is SetsOn.COOLING
    stands = sets > NO
    set_c, melt_c = deep, deep
    if state.set_c is not None and is_cooled:
        set_c = np.where(stands, state.set_c.value, deep)
    if gel is not None and state.sets_on is not SetsOn.HEATING:
        melts = np.full(count, np.inf) if state.melt_c is None else state.melt_c.value
        melt_c = np.where(stands, melts, deep)
    flow = state.flow
    found = Columns(
        sets=sets.astype(np.float64),
        modulus=none if gel is None else gel.modulus.value / 1000.0,
        stress=none if gel is None else gel.fracture_stress.value / 1000.0,
        log_strain=none if gel is None else _log(gel.fracture_strain.value),
        added=none if flow is None else 1000.0 * added_at_stirring(flow),
        liquid=np.full(count, np.nan) if flow is None else 1000.0 * flow.base,
        set_c=set_c,
        melt_c=melt_c,
        stands_c=melt_c,
        clear=np.ones(count) if state.haze is None else 1.0 - state.haze.value,
        weeps=none if state.weeps_pct is None else np.nan_to_num(state.weeps_pct.value),
        frozen=_codes(state.frozen, count),
        is_always=np.full(count, float(gel is None)),
        has_flow=np.full(count, float(flow is not None)),
        price=price,
        burden=burden,
        afloat=rating(
            state.key, percents, is_milk=kitchen.milk_protein >= MILK_SHARE,
            serving_c=kitchen.serving_c, is_gelling=gel is not None,
        ),
    )  # fmt: skip
    return Columns(*(part.reshape(levels, -1) for part in found))


def _log(strain: Array) -> Array:
    return np.asarray(np.log(np.maximum(strain, 1e-3)))


def _codes(codes: Codes | None, count: int) -> Array:
    return np.full(count, float(YES)) if codes is None else codes.astype(np.float64)


def light_of(table: AgentTable, levels: int) -> Array:
    """Return the share of light that passes fat and milk protein of the base, (levels,)."""
    light = light_through(table.fat_share, table.kitchen.milk_protein)
    return light.reshape(levels, -1)[:, 0]
