"""Measured courses: flagged, judged and held against what was computed."""
