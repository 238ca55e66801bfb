"""The page and the printed sheet of dry kits."""
