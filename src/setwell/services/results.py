"""The result types that front doors read."""

from setwell.documents.card import Card
from setwell.engine.assessment import (
    AgentResult,
    AllergenResult,
    Assessment,
    BatchSize,
    Caution,
    CostResult,
    DietResult,
    Figure,
    Finding,
    LineReading,
    NutrientFigure,
    Severity,
    StepReading,
    Texture,
    Verdict,
)
from setwell.engine.difference import FormulaDifference, LineDifference, ValueDifference
from setwell.engine.scaling import ScaledFormula, ScaledLine

__all__ = [
    "AgentResult",
    "AllergenResult",
    "Assessment",
    "BatchSize",
    "Card",
    "Caution",
    "CostResult",
    "DietResult",
    "Figure",
    "Finding",
    "FormulaDifference",
    "LineDifference",
    "LineReading",
    "NutrientFigure",
    "ScaledFormula",
    "ScaledLine",
    "Severity",
    "StepReading",
    "Texture",
    "ValueDifference",
    "Verdict",
]
