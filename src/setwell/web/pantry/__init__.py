"""Pages about the kitchen's own foods, agents, lots, prices, molds, vessels and pH readings."""
