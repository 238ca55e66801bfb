"""Cards as data and text."""
