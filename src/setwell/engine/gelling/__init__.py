"""What each texture agent does in a batch, for all candidates at once."""
