"""`setwell foods`: search the foods that a formula line can name."""

# ruff: noqa: PLC0415 - services are loaded only when a command runs, so that help is quick

from typing import Annotated

import typer

from setwell.cli.kitchen import kitchen_begin
from setwell.cli.shape import json_text


def foods(
    search: Annotated[str, typer.Argument(metavar="SEARCH", help="Words of the name.")],
    *,
    limit: Annotated[
        int, typer.Option("--limit", metavar="N", min=1, max=1000, help="At most so many.")
    ] = 30,
    json: Annotated[bool, typer.Option("--json", help="Print everything as JSON.")] = False,
) -> None:
    """Search the foods that a formula line can name.

    Example: setwell foods "coconut milk"
    """
    kitchen_begin()
    from setwell.cli.screen import Screen
    from setwell.services.catalog import foods_search

    found = foods_search(search=search, limit=limit)
    if json:
        typer.echo(json_text("foods", {"foods": found}))
        return
    if not found:
        typer.echo(f'No food is called "{search}". Try one word of it, or add an own food.')
        return
    rows = [
        (item.name, item.group, "own" if item.is_own else str(item.source), str(item.grade))
        for item in found
    ]
    Screen().table(("name", "group", "source", "grade"), rows)
