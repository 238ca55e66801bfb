"""Hydration, setting, strength and viscosity of texture agents."""
