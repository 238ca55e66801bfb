"""Food-safety rules and reference bands."""
