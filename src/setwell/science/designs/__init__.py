"""Which cases to compute: points that fill a space evenly, and what drives the outcome."""
