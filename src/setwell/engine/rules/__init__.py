"""Cross-checks that speak: what would go wrong, how much, and what to do."""
