"""Pages about saved versions: history, reading, comparing, scaling, pH readings."""
