"""Use cases: commands that write, queries that read."""
