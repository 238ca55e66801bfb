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
from setwell.engine.chemistry_results import (
    AcidOrder,
    AgentOrder,
    Consequence,
    KeptCurve,
    OrderRow,
    Tone,
)
from setwell.engine.difference import FormulaDifference, LineDifference, ValueDifference
from setwell.engine.scaling import ScaledFormula, ScaledLine

__all__ = [
    "AcidOrder",
    "AgentOrder",
    "AgentResult",
    "AllergenResult",
    "Assessment",
    "BatchSize",
    "Card",
    "Caution",
    "Consequence",
    "CostResult",
    "DietResult",
    "Figure",
    "Finding",
    "FormulaDifference",
    "KeptCurve",
    "LineDifference",
    "LineReading",
    "NutrientFigure",
    "OrderRow",
    "ScaledFormula",
    "ScaledLine",
    "Severity",
    "StepReading",
    "Texture",
    "Tone",
    "ValueDifference",
    "Verdict",
]
