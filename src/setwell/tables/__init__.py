"""Data files with a source per row, and their typed loaders."""
