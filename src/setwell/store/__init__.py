"""Database rows and migrations."""
