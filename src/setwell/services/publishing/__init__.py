"""Publishing: pages of cards in a folder, their changes, and links to share one card."""
