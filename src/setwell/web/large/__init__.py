"""The page that makes a formula large: batches, heat and cold, premixes, shopping."""
