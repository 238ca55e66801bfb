"""`setwell acid`: how much acid or buffer brings a formula to a pH."""

# ruff: noqa: PLC0415 - services are loaded only when a command runs, so that help is quick

from typing import Annotated

import typer

from setwell.cli.check import FileName
from setwell.cli.kitchen import kitchen_begin
from setwell.cli.source import formula_source
from setwell.units import number_parse


def acid(
    file: FileName,
    *,
    to: Annotated[str, typer.Option("--to", metavar="PH", help="The pH to reach, 0 to 14.")],
    additive: Annotated[
        str | None,
        typer.Option("--with", metavar="NAME", help='One acid or buffer, as in "citric acid".'),
    ] = None,
    json: Annotated[bool, typer.Option("--json", help="Print everything as JSON.")] = False,
) -> None:
    """Print how much acid or buffer brings a formula to a pH, with the limits of taste.

    Example: setwell acid cream.txt --to 4.2 --with "citric acid"
    """
    target = number_parse(to, field="to")
    kitchen_begin()
    from setwell.cli.acid_print import acid_json, acid_print
    from setwell.services.acidity import acid_dose

    source = formula_source(file)
    result = acid_dose(
        formula=source.formula,
        target_ph=target,
        additive=additive,
        formula_id=source.formula_id,
        number=source.number,
    )
    if json:
        typer.echo(acid_json(result))
    else:
        acid_print(result)
