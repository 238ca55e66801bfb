"""Pure functions on NumPy arrays, grouped by subject."""
