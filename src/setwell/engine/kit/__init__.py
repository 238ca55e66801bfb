"""The dry part of a formula, weighed into bags for kitchens that make it themselves."""
