"""Nutrition panels: rounding in bands, shares of a day, energy from factors."""
