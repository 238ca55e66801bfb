"""The command line, one of two front doors."""

from setwell.cli.app import app

__all__ = ["app"]
