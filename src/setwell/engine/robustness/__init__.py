"""Does it work in someone else's kitchen: chance, drivers, and what would raise it."""
