"""What the published food-safety limits say of a temperature course."""
