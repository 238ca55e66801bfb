"""Publish cards, share one, and take every table along."""
