"""One texture agent of a formula replaced by another, by another grade, or by nothing."""
