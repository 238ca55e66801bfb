"""Write a result to standard output or to a file, without overwriting by accident."""

from pathlib import Path

import typer

from setwell.errors import InputError


def text_write(text: str, *, output: Path | None, overwrite: bool) -> None:
    """Print a text, or write it to a file."""
    if output is None:
        typer.echo(text, nl=not text.endswith("\n"))
        return
    data = text if text.endswith("\n") else f"{text}\n"
    bytes_write(data.encode("utf-8"), output=output, overwrite=overwrite)


def bytes_write(data: bytes, *, output: Path, overwrite: bool) -> None:
    """Write a file and say so on standard error."""
    if output.is_dir():
        raise InputError(f"{output} is a folder.", hint="Give the name of a file in it.")
    if output.exists() and not overwrite:
        raise InputError(f"{output} exists already.", hint="Add --force to write over it.")
    try:
        output.write_bytes(data)
    except OSError as error:
        raise InputError(f"{output} cannot be written: {error.strerror}.") from None
    typer.echo(f"Wrote {output} ({len(data):,} bytes).", err=True)
