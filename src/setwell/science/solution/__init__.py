"""The water phase: ions, solids, pH."""
