"""Physical properties of food components."""

from setwell.tables.heat.density import (
    ComponentDensity,
    SpiritDensity,
    component_densities,
    spirit_densities,
)

__all__ = ["ComponentDensity", "SpiritDensity", "component_densities", "spirit_densities"]
