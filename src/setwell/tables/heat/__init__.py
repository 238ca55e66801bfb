"""Physical properties of food components."""

from setwell.tables.heat.density import ComponentDensity, component_densities

__all__ = ["ComponentDensity", "component_densities"]
