"""The card for strangers to follow: page, print and PDF."""
