"""The page that replaces one agent of a formula."""
