"""Pages about heating, cooling and serving time."""
