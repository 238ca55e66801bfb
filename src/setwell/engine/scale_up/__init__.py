"""From a cup to a crowd: batches and vessels, premixes, what to buy, and what changes by size."""
