"""What the published food-safety limits say of a temperature course."""

from setwell.engine.safety.acidity import acidity_check
from setwell.engine.safety.cooling import cooling_checks
from setwell.engine.safety.heating import heating_checks
from setwell.engine.safety.holding import Holding, holding_checks
from setwell.engine.safety.overall import summary_line, verdict_overall
from setwell.engine.safety.reheating import reheating_checks
from setwell.engine.safety.results import DEFERRAL, Basis, RowRuling, Ruling, SafetyCheck
from setwell.engine.safety.unheated import unheated_checks, unknown_food_check

__all__ = [
    "DEFERRAL",
    "Basis",
    "Holding",
    "RowRuling",
    "Ruling",
    "SafetyCheck",
    "acidity_check",
    "cooling_checks",
    "heating_checks",
    "holding_checks",
    "reheating_checks",
    "summary_line",
    "unheated_checks",
    "unknown_food_check",
    "verdict_overall",
]
