"""Validated documents and the kitchen's own things; no calculation."""
