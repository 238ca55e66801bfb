"""The kitchen itself: home, settings, look, limits."""
