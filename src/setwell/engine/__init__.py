"""Joins documents, tables and science; pure."""
