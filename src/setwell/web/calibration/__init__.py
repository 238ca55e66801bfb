"""Pages about what this kitchen measured of textures and lots, and what it moves."""
