"""Thermal properties of food, conduction, surfaces, pots and evaporation."""
