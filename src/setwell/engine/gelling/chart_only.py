"""Agents without a texture model yet: hydration and chart values, and no verdict."""

import numpy as np

from setwell.engine.gelling.acid import loss_evidence, strength_kept
from setwell.engine.gelling.hydration import hydrates, hydration
from setwell.engine.gelling.parameters import Parameter, parameter
from setwell.engine.gelling.state import (
    AgentInput,
    AgentState,
    Origins,
    SetsOn,
    effective_dose,
)
from setwell.engine.spans import Spans
from setwell.errors import MissingDataError
from setwell.provenance import Evidence
from setwell.tables.agents import agent_rows


def chart_only(agent: AgentInput) -> AgentState:
    """Return what the tables know of an agent; whether and how it sets stays open."""
    dissolved = hydration(agent)
    hydrated = dissolved.fraction
    count = len(agent.dose_pct)
    kept = strength_kept(agent.key, agent.water.ph, agent.acid)
    setting = _figure(agent.key, "setting_temperature")
    melting = _figure(agent.key, "melting_temperature")
    thickens = agent_rows()[agent.key].kind in {"thickener", "emulsifier"}
    return AgentState(
        key=agent.key,
        hydrated=hydrated,
        hydrates=hydrates(hydrated),
        kept=kept,
        effective_pct=effective_dose(agent.active_pct, hydrated, kept),
        sets_on=SetsOn.NOTHING if thickens else SetsOn.COOLING,
        set_c=None if setting is None else _constant(setting, count),
        melt_c=None if melting is None else _constant(melting, count),
        is_extrapolated=np.zeros(count, dtype=np.bool_),
        origins=Origins(
            acid=loss_evidence(agent.key),
            hydration=dissolved.evidence,
            setting=_citation(setting),
            melting=_citation(melting),
        ),
        model="table values only",
        is_modeled=False,
    )


def _figure(agent: str, name: str) -> Parameter | None:
    try:
        return parameter(agent, name)
    except MissingDataError:
        return None


def _citation(figure: Parameter | None) -> Evidence:
    return () if figure is None else (figure.citation,)


def _constant(figure: Parameter, count: int) -> Spans:
    return Spans(*(np.full(count, bound) for bound in figure[:3]))
