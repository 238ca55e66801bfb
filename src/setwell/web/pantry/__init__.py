"""Pages about the kitchen's own foods, agents, lots, prices, equipment and pH readings."""
