"""Agents that a pair law joins: the engine's own blend laws on tabulated states."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.blends import has_law
from setwell.engine.gelling.pair import Kitchen
from setwell.engine.gelling.state import AgentState, Flow, Gel
from setwell.engine.proposals.afloat import beside
from setwell.engine.proposals.predicted import Predicted, predicted_of_texture
from setwell.engine.proposals.tables import AgentTable, Columns
from setwell.engine.spans import Spans
from setwell.engine.texture import texture_state

Array = NDArray[np.float64]
Indices = NDArray[np.intp]


def laws_among(
    tables: Sequence[AgentTable], *, is_known: bool = False
) -> tuple[tuple[int, int], ...]:
    """Return the pairs of places among these agents for which a law is known, or guessed too."""
    return tuple(
        (a, b)
        for a, b in combinations(range(len(tables)), 2)
        if has_law(tables[a].state, tables[b].state, is_known=is_known)
    )


def joined(tables: Sequence[AgentTable], doses: Indices, levels: int) -> tuple[Predicted, Array]:
    """Return what one set of agents comes to at all levels and doses, and its burden.

    Shapes of the result are (levels, doses, ... once for each agent).
    """
    grid = np.meshgrid(np.arange(levels), *([doses] * len(tables)), indexing="ij")
    found, burden = joined_at(tables, np.stack([axis.ravel() for axis in grid], axis=1))
    shape = (levels, *([len(doses)] * len(tables)))
    return found.shaped(shape), burden.reshape(shape)


def joined_at(tables: Sequence[AgentTable], places: Indices) -> tuple[Predicted, Array]:
    """Return what one set of agents comes to, and its burden, at n places.

    `places` (n, 1 + agents) are the helper level and the dose of each agent, all levels in order
    and each as often.
    """
    each = len(tables[0].doses_pct)
    # Fat and milk are those of the base: the traces that powders bring are left to the engine.
    plain = places[:, 0] * each
    rows = [plain + places[:, 1 + slot] for slot in range(len(tables))]
    states = {
        table.agent.key: taken(table.state, row) for table, row in zip(tables, rows, strict=True)
    }
    first = tables[0]
    texture = texture_state(states, _kitchen(first.kitchen, plain), first.fat_share[plain])
    price = sum(t.columns.price.ravel()[r] for t, r in zip(tables, rows, strict=True))
    burden = sum(t.columns.burden.ravel()[r] for t, r in zip(tables, rows, strict=True))
    afloat = beside(
        [t.columns.afloat.ravel()[r] for t, r in zip(tables, rows, strict=True)],
        [t.columns.is_always.ravel()[r] for t, r in zip(tables, rows, strict=True)],
    )
    return predicted_of_texture(texture, np.asarray(price), afloat), np.asarray(burden)


def as_one(
    tables: Sequence[AgentTable], found: Predicted, burden: Array, light: Array, doses: Indices
) -> Columns:
    """Return a pair whose law was applied as if it were one agent, (levels, doses, doses)."""
    first, second = (
        table.columns.liquid[:, doses].reshape(shape)
        for table, shape in zip(tables, _axes(len(light), len(doses)), strict=True)
    )
    liquid = np.fmax(first, second) + np.zeros_like(burden)
    has_gel = found.modulus > 0
    return Columns(
        sets=found.sets.astype(np.float64),
        modulus=found.modulus,
        stress=found.stress,
        log_strain=np.where(has_gel, np.log(np.where(has_gel, found.strain, 1.0)), 0.0),
        added=np.nan_to_num(found.thickness - liquid),
        liquid=liquid,
        set_c=_deep(found.set_c),
        melt_c=_deep(found.melt_c),
        stands_c=_deep(found.stands_c),
        clear=(1.0 - found.haze) / np.maximum(light[:, None, None], 1e-12),
        weeps=found.weeps,
        frozen=found.frozen.astype(np.float64),
        is_always=(~has_gel).astype(np.float64),
        has_flow=np.isfinite(liquid).astype(np.float64),
        price=found.cost,
        burden=burden,
        afloat=found.afloat,
    )


def _axes(levels: int, doses: int) -> tuple[tuple[int, int, int], tuple[int, int, int]]:
    return (levels, doses, 1), (levels, 1, doses)


def _deep(celsius: Array) -> Array:
    return np.where(np.isnan(celsius), -np.inf, celsius)


def _kitchen(kitchen: Kitchen, rows: Indices) -> Kitchen:
    return Kitchen(
        kitchen.coldest_c[rows],
        kitchen.serving_c[rows],
        kitchen.potassium[rows],
        Spans(*(part[rows] for part in kitchen.ph)),
        kitchen.milk_protein[rows],
    )


def taken(state: AgentState, rows: Indices) -> AgentState:
    """Return a tabulated state at some of its rows, the middle standing for the whole range."""
    gel, flow = state.gel, state.flow
    return replace(
        state,
        working=replace(state.working, effective_pct=_middle(state.effective_pct, rows)),
        critical_pct=state.critical_pct and _middle(state.critical_pct, rows),
        conditions=tuple(one._replace(holds=one.holds[rows]) for one in state.conditions),
        sets=state.sets[rows],
        set_c=state.set_c and _middle(state.set_c, rows),
        melt_c=state.melt_c and _middle(state.melt_c, rows),
        gel=gel
        and Gel(
            _middle(gel.modulus, rows),
            _middle(gel.fracture_stress, rows),
            _middle(gel.fracture_strain, rows),
        ),
        flow=flow and Flow(_middle(flow.added, rows), flow.base[rows], flow.rates),
        haze=state.haze and _middle(state.haze, rows),
        weeps_pct=state.weeps_pct and _middle(state.weeps_pct, rows),
        frozen=None if state.frozen is None else state.frozen[rows],
    )


def _middle(spans: Spans, rows: Indices) -> Spans:
    middle = spans.value[rows]
    return Spans(middle, middle, middle)
