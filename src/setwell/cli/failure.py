"""Say on standard error what went wrong."""

import typer

from setwell.errors import SetwellError


def failure_print(error: SetwellError) -> None:
    """Print one error as one line."""
    warning_print(f"setwell: {error}")


def warning_print(text: str) -> None:
    """Print a remark that is not the result."""
    typer.echo(" ".join(text.split()), err=True)
