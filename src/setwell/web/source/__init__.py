"""The page of all sources and grades."""
