"""What the published food-safety limits say of a temperature course."""

from setwell.engine.safety.acidity import acidity_check
from setwell.engine.safety.cooling import cooling_checks
from setwell.engine.safety.heating import heating_checks
from setwell.engine.safety.overall import summary_line, verdict_overall
from setwell.engine.safety.results import DEFERRAL, Basis, RowRuling, Ruling, SafetyCheck

__all__ = [
    "DEFERRAL",
    "Basis",
    "RowRuling",
    "Ruling",
    "SafetyCheck",
    "acidity_check",
    "cooling_checks",
    "heating_checks",
    "summary_line",
    "verdict_overall",
]
