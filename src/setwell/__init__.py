"""Bench companion for recipes set or thickened with texture agents."""
