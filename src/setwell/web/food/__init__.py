"""Pages about foods: search and one page each."""
