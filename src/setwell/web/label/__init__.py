"""The draft of a label: page, print, PDF and text."""
