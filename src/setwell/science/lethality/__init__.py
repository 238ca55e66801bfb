"""What a temperature course does to microbes, and how long it stays between temperatures."""
