"""What a kitchen's own measurements say about the figures of a model."""
