"""The page that tries blends of agents."""
