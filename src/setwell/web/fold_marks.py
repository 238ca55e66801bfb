"""Marks for folded parts of the results: what stands inside, in one line."""

from collections.abc import Iterable

from django import template

from setwell.provenance import Estimate
from setwell.services.results import AgentResult, Assessment, Figure
from setwell.web.figures import value_only

register = template.Library()

# What most look a composition up for.
_NUTRIENTS = ("energy_kcal", "sugars_g", "fat_g", "protein_g")
_MOST = 3


@register.filter
def composition_told(assessment: Assessment) -> str:
    """Return the few rows of a composition that most look up."""
    rows = {row.key: row for row in assessment.nutrients}
    told = [_told(rows[key].label, rows[key].per_100g) for key in _NUTRIENTS if key in rows]
    return f"In 100 g: {', '.join(told)}"


@register.filter
def figures_told(figures: Iterable[Figure]) -> str:
    """Return the first figures of a group."""
    told = [_told(figure.label, figure.estimate) for figure in figures if not figure.is_none]
    return ", ".join(told[:_MOST]) + (" and more" if len(told) > _MOST else "")


@register.filter
def agent_told(agent: AgentResult) -> str:
    """Return whether an agent hydrates and sets, and at what temperature."""
    has_place = agent.sets == "yes" and agent.set_temperature_c is not None
    at = f", at {value_only(agent.set_temperature_c)}" if has_place else ""
    return f"Hydrates: {agent.hydrates}, sets: {agent.sets}{at}"


@register.filter
def is_odd_agent(agent: AgentResult) -> bool:
    """True where an agent does not dissolve, or lacks something that it needs."""
    needs = (need.verdict for need in agent.gel.requirements)
    return any(verdict != "yes" for verdict in (agent.hydrates, *needs))


@register.filter
def has_odd_step(assessment: Assessment) -> bool:
    """True where a step was not understood."""
    return any(step.problem for step in assessment.steps)


@register.filter
def steps_told(assessment: Assessment) -> str:
    """Return how many steps there are, and how many of them were not understood."""
    count, odd = len(assessment.steps), sum(1 for step in assessment.steps if step.problem)
    return f"{count} step{'' if count == 1 else 's'}, {f'{odd} to look at' if odd else 'all read'}"


def _told(label: str, estimate: Estimate) -> str:
    return f"{label[:1].lower()}{label[1:]} {value_only(estimate)}"
