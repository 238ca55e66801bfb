"""Texture agents."""
