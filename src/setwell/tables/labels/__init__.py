"""Rules of labels: rounding, daily values, reference amounts, additives and allergens."""
