"""From steps, pot and mold to times: when each step begins, and when to start cooking."""
