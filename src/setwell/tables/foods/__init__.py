"""Foods and pure chemicals: composition, density, acidity, minerals, labels and names."""

from setwell.tables.foods.aliases import food_aliases
from setwell.tables.foods.load import food_rows
from setwell.tables.foods.nutrients import NUTRIENTS, nutrient_spread
from setwell.tables.foods.rows import (
    MINERALS,
    SUGARS,
    Alias,
    AllergenTag,
    Buffering,
    Density,
    Enzyme,
    FoodRow,
    Fraction,
    Nutrient,
    PhRange,
    Portion,
)

__all__ = [
    "MINERALS",
    "NUTRIENTS",
    "SUGARS",
    "Alias",
    "AllergenTag",
    "Buffering",
    "Density",
    "Enzyme",
    "FoodRow",
    "Fraction",
    "Nutrient",
    "PhRange",
    "Portion",
    "food_aliases",
    "food_rows",
    "nutrient_spread",
]
