"""Pages about the texture of a formula: all its versions on one map."""
