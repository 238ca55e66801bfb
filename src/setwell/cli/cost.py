"""`setwell cost`: what a batch costs, line by line."""

# ruff: noqa: PLC0415 - services are loaded only when a command runs, so that help is quick

from typing import Annotated

import typer

from setwell.cli.check import FileName
from setwell.cli.given import given
from setwell.cli.kitchen import kitchen_begin
from setwell.cli.source import formula_source
from setwell.units import mass_parse, number_parse


def cost(
    file: FileName,
    *,
    portions: Annotated[
        int | None, typer.Option("--portions", metavar="N", help="Portions of one batch.")
    ] = None,
    portion: Annotated[
        str | None, typer.Option("--portion", metavar="WEIGHT", help="Weight of one, as in 90g.")
    ] = None,
    minutes: Annotated[
        str | None, typer.Option("--labor-minutes", metavar="MIN", help="Minutes of work.")
    ] = None,
    rate: Annotated[
        str | None, typer.Option("--labor-rate", metavar="MONEY", help="Price of an hour of work.")
    ] = None,
    json: Annotated[bool, typer.Option("--json", help="Print everything as JSON.")] = False,
) -> None:
    """Print what a batch and a portion cost, which lines drive it, and which prices are missing.

    Example: setwell cost cream.txt --portion 90g --labor-minutes 45 --labor-rate 32
    """
    kitchen_begin()
    from setwell.cli.cost_print import cost_json, cost_print
    from setwell.services.costs import CostAsk, cost_of

    source = formula_source(file)
    ask = CostAsk(
        labor_min=given(minutes, number_parse, "labor_min"),
        labor_per_hour=given(rate, number_parse, "labor_per_hour"),
        portions=portions,
        portion_g=given(portion, mass_parse, "portion_g"),
    )
    answer = cost_of(
        formula=source.formula, ask=ask, formula_id=source.formula_id, number=source.number
    )
    if json:
        typer.echo(cost_json(answer))
    else:
        cost_print(answer)
