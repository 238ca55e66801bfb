"""The page about what a formula costs."""
