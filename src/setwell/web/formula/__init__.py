"""Pages about formulas: list, write, compute, import, export."""
