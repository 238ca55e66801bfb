"""Acids, ions and salts in water: what the acid-base balance is computed from."""

from setwell.tables.solution.acids import acid_systems, complexes, titratable_acids
from setwell.tables.solution.contents import chemicals, food_acids
from setwell.tables.solution.milk import milk_groups, milk_salts
from setwell.tables.solution.rows import (
    AcidStep,
    AcidSystem,
    Chemical,
    Complex,
    Figure,
    FoodAcid,
    HardnessUnit,
    MilkGroup,
    Solubility,
    Solute,
    TitratableAcid,
    WaterConstants,
)
from setwell.tables.solution.solubility import solubilities
from setwell.tables.solution.solutes import solutes, taste_limits
from setwell.tables.solution.water import hardness_presets, hardness_units, water_constants

__all__ = [
    "AcidStep",
    "AcidSystem",
    "Chemical",
    "Complex",
    "Figure",
    "FoodAcid",
    "HardnessUnit",
    "MilkGroup",
    "Solubility",
    "Solute",
    "TitratableAcid",
    "WaterConstants",
    "acid_systems",
    "chemicals",
    "complexes",
    "food_acids",
    "hardness_presets",
    "hardness_units",
    "milk_groups",
    "milk_salts",
    "solubilities",
    "solutes",
    "taste_limits",
    "titratable_acids",
    "water_constants",
]
