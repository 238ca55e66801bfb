"""Pages about the acid of a formula: doses for a pH, and the curve on the way."""
