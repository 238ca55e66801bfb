"""`setwell formulas`: what is saved in the kitchen."""

# ruff: noqa: PLC0415 - services are loaded only when a command runs, so that help is quick

from typing import Annotated

import typer

from setwell.cli.kitchen import kitchen_begin
from setwell.cli.shape import json_text
from setwell.units import date_print


def formulas(
    search: Annotated[
        str, typer.Argument(metavar="[SEARCH]", help="Words of the title.", show_default=False)
    ] = "",
    *,
    archived: Annotated[
        bool, typer.Option("--archived", help="List the ones put away instead.")
    ] = False,
    json: Annotated[bool, typer.Option("--json", help="Print everything as JSON.")] = False,
) -> None:
    """List the saved formulas, last saved first.

    Example: setwell formulas cream
    """
    kitchen_begin()
    from setwell.cli.screen import Screen
    from setwell.services.formulas import formula_list

    found = formula_list(search=search, archived=archived)
    if json:
        typer.echo(json_text("formulas", {"formulas": found}))
        return
    if not found:
        typer.echo("No saved formula." if not search else f'No saved formula has "{search}".')
        return
    rows = [
        (
            str(item.id),
            item.title,
            str(item.head_number),
            date_print(item.saved_at),
            item.headline,
        )
        for item in found
    ]
    Screen().table(("id", "title", "version", "saved", "texture"), rows, right=(0, 2), fixed=(3,))
