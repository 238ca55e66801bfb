"""Texture agents: what they are, how they behave, and the names kitchens write."""

from setwell.tables.agents.blends import BlendFigure, BlendRow, blend_rows
from setwell.tables.agents.load import agent_aliases, agent_rows, gelatin_grades
from setwell.tables.agents.rows import AgentRow, Alias, GelatinGrade, PropertyRow, TextRow

__all__ = [
    "AgentRow",
    "Alias",
    "BlendFigure",
    "BlendRow",
    "GelatinGrade",
    "PropertyRow",
    "TextRow",
    "agent_aliases",
    "agent_rows",
    "blend_rows",
    "gelatin_grades",
]
