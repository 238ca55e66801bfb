"""`setwell export` and `setwell import`: formulas in and out of the kitchen."""

# ruff: noqa: PLC0415 - services are loaded only when a command runs, so that help is quick

from pathlib import Path
from typing import Annotated

import typer

from setwell.cli.failure import failure_print, warning_print
from setwell.cli.kitchen import kitchen_begin
from setwell.cli.source import STANDARD_INPUT, file_text, saved_source
from setwell.cli.target import text_write
from setwell.errors import DocumentError, SetwellError


def export(
    formula: Annotated[
        str, typer.Argument(metavar="ID|TITLE", help="A saved formula's id, title or hash.")
    ],
    *,
    number: Annotated[
        int | None,
        typer.Option("--version", metavar="N", min=1, help="An older version than the newest."),
    ] = None,
    text: Annotated[
        bool, typer.Option("--text", help="Plain text for people instead of JSON.")
    ] = False,
    output: Annotated[
        Path | None, typer.Option("--output", "-o", metavar="FILE", help="Write to a file.")
    ] = None,
    force: Annotated[bool, typer.Option("--force", help="Write over an existing file.")] = False,
) -> None:
    """Print a saved formula as a document that another kitchen can import.

    Example: setwell export "Lime set cream" -o cream.json
    """
    kitchen_begin()
    from setwell.services.exchange import formula_export_json, formula_export_text

    found = saved_source(formula, number=number).formula
    made = formula_export_text(formula=found) if text else formula_export_json(formula=found)
    text_write(made, output=output, overwrite=force)


def import_(
    files: Annotated[list[str], typer.Argument(metavar="FILE...", help="Files to import, or -.")],
) -> None:
    """Save formulas from files into the kitchen and print their ids.

    Example: setwell import cream.txt
    """
    kitchen_begin()
    failed = sum(not _imported(name) for name in files)
    if failed:
        warning_print(f"{failed} of {len(files)} files were not imported.")
        raise typer.Exit(1)


def _imported(name: str) -> bool:
    from setwell.services.exchange import formula_import
    from setwell.services.formulas import formula_create

    try:
        text = file_text(name)
        if not text.strip():
            raise DocumentError(f"{name} is empty; a formula needs at least one line.")
        filename = "" if name == STANDARD_INPUT else Path(name).name
        formula = formula_import(text=text, filename=filename)
        saved = formula_create(formula=formula, note=f"Imported from {filename or 'input'}.")
    except SetwellError as error:
        failure_print(error)
        return False
    typer.echo(f"{saved.formula_id}  {formula.title}  (version {saved.number}, {saved.hash[:10]})")
    return True
