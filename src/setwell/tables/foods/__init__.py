"""Foods and pure chemicals."""
