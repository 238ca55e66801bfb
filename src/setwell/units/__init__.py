"""Amounts in kitchen units: parse, convert, print."""
