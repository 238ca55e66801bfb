"""`setwell texture`: how a formula sets, breaks, flows, looks and melts."""

# ruff: noqa: PLC0415 - services are loaded only when a command runs, so that help is quick

from typing import Annotated

import typer

from setwell.cli.check import FileName
from setwell.cli.kitchen import kitchen_begin
from setwell.cli.source import formula_source


def texture(
    file: FileName,
    *,
    json: Annotated[bool, typer.Option("--json", help="Print everything as JSON.")] = False,
) -> None:
    """Print the texture of a formula: every number with its range, and what it means.

    Example: setwell texture cream.txt
    """
    kitchen_begin()
    from setwell.cli.texture_print import texture_json, texture_print
    from setwell.services.assessment import formula_assess

    source = formula_source(file)
    result = formula_assess(
        formula=source.formula, formula_id=source.formula_id, number=source.number
    )
    if json:
        typer.echo(texture_json(result))
    else:
        texture_print(result)
