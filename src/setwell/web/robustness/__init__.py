"""The page that says whether a formula works in other kitchens."""
