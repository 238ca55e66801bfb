"""Heat, and what food and kitchens do with it: components, water, spirits and mixing rules."""

from setwell.tables.heat.components import ComponentProperty, component_properties
from setwell.tables.heat.density import (
    ComponentDensity,
    SpiritDensity,
    component_densities,
    spirit_densities,
)
from setwell.tables.heat.mixing_rules import MixingRule, mixing_rules
from setwell.tables.heat.spirit_excess import SpiritExcess, spirit_excesses
from setwell.tables.heat.water import WaterRow, water_rows

__all__ = [
    "ComponentDensity",
    "ComponentProperty",
    "MixingRule",
    "SpiritDensity",
    "SpiritExcess",
    "WaterRow",
    "component_densities",
    "component_properties",
    "mixing_rules",
    "spirit_densities",
    "spirit_excesses",
    "water_rows",
]
