"""`setwell agents`: the chart of texture agents."""

# ruff: noqa: PLC0415 - services are loaded only when a command runs, so that help is quick

from typing import Annotated

import typer

from setwell.cli.kitchen import kitchen_begin
from setwell.cli.shape import json_text


def agents(
    names: Annotated[
        list[str] | None, typer.Argument(metavar="[NAME]...", help="Agents to compare.")
    ] = None,
    *,
    json: Annotated[bool, typer.Option("--json", help="Print everything as JSON.")] = False,
) -> None:
    """List the texture agents, or show the named ones side by side.

    Example: setwell agents "kappa carrageenan" agar
    """
    kitchen_begin()
    from setwell.cli.chart_print import chart_print, names_print
    from setwell.services.catalog import agents_chart

    chart = agents_chart(agents=tuple(names) if names else None)
    if json:
        typer.echo(json_text("agents", {"chart": chart}))
    elif names:
        chart_print(chart)
    else:
        names_print(chart)
