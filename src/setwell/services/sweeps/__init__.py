"""The same vectorized function over many chunks: here, on all cores, or on a cluster."""
