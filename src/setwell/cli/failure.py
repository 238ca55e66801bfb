"""Say on standard error what went wrong."""

import typer

from setwell.errors import SetwellError, UnknownNameError


def failure_print(error: SetwellError) -> None:
    """Print one error as one line."""
    near = error.nearest if isinstance(error, UnknownNameError) else ()
    offer = f" Nearest: {', '.join(near)}." if near else ""
    warning_print(f"setwell: {error}{offer}")


def warning_print(text: str) -> None:
    """Print a remark that is not the result."""
    typer.echo(" ".join(text.split()), err=True)
