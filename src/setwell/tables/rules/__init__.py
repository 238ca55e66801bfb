"""Food-safety rules, cautions and reference bands."""

from setwell.tables.rules.bands import (
    FirmnessBand,
    SwallowingBand,
    ViscosityLandmark,
    firmness_bands,
    swallowing_bands,
    viscosity_landmarks,
)
from setwell.tables.rules.cautions import Caution, cautions
from setwell.tables.rules.food_code import FoodCodeRule, food_code_rules
from setwell.tables.rules.mini_cups import MiniCupBan, mini_cup_bans
from setwell.tables.rules.tcs import TcsCell, tcs_cells

__all__ = [
    "Caution",
    "FirmnessBand",
    "FoodCodeRule",
    "MiniCupBan",
    "SwallowingBand",
    "TcsCell",
    "ViscosityLandmark",
    "cautions",
    "firmness_bands",
    "food_code_rules",
    "mini_cup_bans",
    "swallowing_bands",
    "tcs_cells",
    "viscosity_landmarks",
]
