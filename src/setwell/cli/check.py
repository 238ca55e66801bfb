"""`setwell check`: read a formula and say what will happen."""

# ruff: noqa: PLC0415 - services are loaded only when a command runs, so that help is quick

from typing import Annotated

import typer

from setwell.cli.kitchen import kitchen_chosen
from setwell.cli.source import formula_source

FileName = Annotated[
    str,
    typer.Argument(
        metavar="FILE",
        help="A file (JSON, schema.org Recipe, web page, text), a saved title or id, or -.",
    ),
]


def check(
    file: FileName,
    *,
    json: Annotated[bool, typer.Option("--json", help="Print everything as JSON.")] = False,
    sources: Annotated[
        bool, typer.Option("--sources", help="List where the numbers come from.")
    ] = False,
    strict: Annotated[
        bool,
        typer.Option("--strict", help="Exit with 1 on a stop finding or a line not read."),
    ] = False,
    no_kitchen: Annotated[
        bool,
        typer.Option("--no-kitchen", help="Leave out own foods, agents, lots and prices."),
    ] = False,
) -> None:
    """Read a formula and say whether it sets, what would go wrong and how sure that is.

    Example: setwell check cream.txt --sources
    """
    with kitchen_chosen(use_own=not no_kitchen):
        from setwell.cli.assessment_print import assessment_json, assessment_print
        from setwell.services.assessment import formula_assess

        source = formula_source(file)
        result = formula_assess(
            formula=source.formula, formula_id=source.formula_id, number=source.number
        )
        if json:
            typer.echo(assessment_json(result))
        else:
            assessment_print(result, has_sources=sources)
    has_stop = any(finding.severity == "stop" for finding in result.findings)
    if strict and (has_stop or not result.is_complete):
        raise typer.Exit(1)
