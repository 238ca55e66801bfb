"""The result types that front doors read."""

from setwell.documents.bench_sheet import BenchSheet
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
from setwell.engine.blend_formula import BlendAgent
from setwell.engine.blend_grid import BlendBest, BlendGrid, BlendKind, BlendPoint
from setwell.engine.chemistry_results import (
    AcidOrder,
    AgentOrder,
    Consequence,
    KeptCurve,
    OrderRow,
    Tone,
)
from setwell.engine.difference import FormulaDifference, LineDifference, ValueDifference
from setwell.engine.gelling.doubt import Correction, Corrections
from setwell.engine.heat.results import Advice, CoolingResult, Moment, PotResult
from setwell.engine.lot_check_guide import GuideAnswer, LotCheckGuide
from setwell.engine.robustness.results import Quantity, Robustness
from setwell.engine.safety.results import SafetyCheck
from setwell.engine.scaling import ScaledFormula, ScaledLine
from setwell.engine.texture_results import Requirement
from setwell.engine.timeline.results import Schedule, Timeline
from setwell.engine.word_places import WordRegion
from setwell.services.texture_results import (
    DoseAdvice,
    LotReport,
    QuantityRow,
    ReadingUse,
    TextureCalibration,
    TextureDispute,
)
from setwell.store.texture_reading_rows import StoredLotCheck, StoredTextureReading

__all__ = [
    "AcidOrder",
    "Advice",
    "AgentOrder",
    "AgentResult",
    "AllergenResult",
    "Assessment",
    "BatchSize",
    "BenchSheet",
    "BlendAgent",
    "BlendBest",
    "BlendGrid",
    "BlendKind",
    "BlendPoint",
    "Card",
    "Caution",
    "Consequence",
    "CoolingResult",
    "Correction",
    "Corrections",
    "CostResult",
    "DietResult",
    "DoseAdvice",
    "Figure",
    "Finding",
    "FormulaDifference",
    "GuideAnswer",
    "KeptCurve",
    "LineDifference",
    "LineReading",
    "LotCheckGuide",
    "LotReport",
    "Moment",
    "NutrientFigure",
    "OrderRow",
    "PotResult",
    "Quantity",
    "QuantityRow",
    "ReadingUse",
    "Requirement",
    "Robustness",
    "SafetyCheck",
    "ScaledFormula",
    "ScaledLine",
    "Schedule",
    "Severity",
    "StepReading",
    "StoredLotCheck",
    "StoredTextureReading",
    "Texture",
    "TextureCalibration",
    "TextureDispute",
    "Timeline",
    "Tone",
    "ValueDifference",
    "Verdict",
    "WordRegion",
]
