"""What a formula line can name: foods and texture agents."""

from setwell.services.agent_catalog import agent_detail, agents_chart
from setwell.services.agent_results import (
    AgentCell,
    AgentChart,
    AgentChartRow,
    AgentColumn,
    AgentDetail,
    AgentFact,
    AgentPart,
)
from setwell.services.food_catalog import (
    FoodDetail,
    FoodNutrient,
    FoodPortion,
    FoodSummary,
    food_detail,
    foods_search,
)

__all__ = [
    "AgentCell",
    "AgentChart",
    "AgentChartRow",
    "AgentColumn",
    "AgentDetail",
    "AgentFact",
    "AgentPart",
    "FoodDetail",
    "FoodNutrient",
    "FoodPortion",
    "FoodSummary",
    "agent_detail",
    "agents_chart",
    "food_detail",
    "foods_search",
]
