"""Pages of briefs: what is wanted of a texture, and what would do it."""
