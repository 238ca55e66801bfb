"""Say on standard error what went wrong."""

import typer

from setwell.errors import SetwellError, UnknownNameError


def failure_print(error: SetwellError) -> None:
    """Print one error as one line."""
    near = error.nearest if isinstance(error, UnknownNameError) else ()
    # A hint may offer them already.
    is_offered = not near or "Nearest" in error.hint
    offer = "" if is_offered else f" Nearest: {', '.join(near)}."
    warning_print(f"setwell: {error}{offer}")


def warning_print(text: str) -> None:
    """Print a remark that is not the result."""
    typer.echo(" ".join(text.split()), err=True)
