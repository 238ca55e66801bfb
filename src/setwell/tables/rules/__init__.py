"""Food-safety rules, cautions and reference bands."""

from setwell.tables.rules.bands import (
    SwallowingBand,
    ViscosityLandmark,
    WordBand,
    firmness_bands,
    flow_words,
    swallowing_band,
    swallowing_bands,
    viscosity_landmarks,
)
from setwell.tables.rules.cautions import Caution, cautions
from setwell.tables.rules.food_code import FoodCodeRule, food_code_rules
from setwell.tables.rules.mini_cups import MiniCupBan, mini_cup_bans
from setwell.tables.rules.pasteurization import (
    PasteurizationRow,
    RoastRow,
    pasteurization_rows,
    roast_rows,
)
from setwell.tables.rules.regions import TextureRegion, texture_regions
from setwell.tables.rules.resistance import (
    LethalityTarget,
    ResistanceRow,
    lethality_targets,
    resistance_rows,
)
from setwell.tables.rules.spreads import Spread, lot_spread, spread, spreads
from setwell.tables.rules.tcs import TcsCell, tcs_cells

__all__ = [
    "Caution",
    "FoodCodeRule",
    "LethalityTarget",
    "MiniCupBan",
    "PasteurizationRow",
    "ResistanceRow",
    "RoastRow",
    "Spread",
    "SwallowingBand",
    "TcsCell",
    "TextureRegion",
    "ViscosityLandmark",
    "WordBand",
    "cautions",
    "firmness_bands",
    "flow_words",
    "food_code_rules",
    "lethality_targets",
    "lot_spread",
    "mini_cup_bans",
    "pasteurization_rows",
    "resistance_rows",
    "roast_rows",
    "spread",
    "spreads",
    "swallowing_band",
    "swallowing_bands",
    "tcs_cells",
    "texture_regions",
    "viscosity_landmarks",
]
