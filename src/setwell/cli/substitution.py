"""`setwell substitute`: one agent of a formula replaced, with the texture kept."""

# ruff: noqa: PLC0415 - services are loaded only when a command runs, so that help is quick

from typing import Annotated

import typer

from setwell.cli.check import FileName
from setwell.cli.given import given
from setwell.cli.kitchen import kitchen_begin
from setwell.cli.source import formula_source
from setwell.units import number_parse


def substitute(  # noqa: PLR0913 - one option for each thing that a swap depends on
    file: FileName,
    *,
    replace: Annotated[
        str,
        typer.Option("--replace", metavar="NAME", help="What goes: an agent, egg, or its line."),
    ] = "",
    by: Annotated[
        str, typer.Option("--by", metavar="NAME", help="The new agent; without it all are tried.")
    ] = "",
    bloom: Annotated[
        str | None, typer.Option("--bloom", metavar="GRAMS", help="Bloom of the new gelatin.")
    ] = None,
    strength: Annotated[
        str | None,
        typer.Option("--strength", metavar="TIMES", help="Strength of the new lot, 1 = usual."),
    ] = None,
    remove: Annotated[bool, typer.Option("--remove", help="Put nothing in its place.")] = False,
    keep: Annotated[
        str,
        typer.Option("--keep", metavar="WHAT", help="firmness, break, thickness or setting."),
    ] = "",
    target: Annotated[
        str | None,
        typer.Option("--target", metavar="NUMBER", help="Reach this instead: kPa, mPa·s or °C."),
    ] = None,
    json: Annotated[bool, typer.Option("--json", help="Print everything as JSON.")] = False,
) -> None:
    """Print what replaces one agent of a formula and keeps its texture.

    Example: setwell substitute cream.txt --replace "kappa carrageenan" --by agar
    """
    numbers = {
        name: given(text, number_parse, name)
        for name, text in (("bloom", bloom), ("strength", strength), ("target", target))
    }
    kitchen_begin()
    from setwell.cli.substitution_print import substitution_json, substitution_print
    from setwell.services.substitution import SubstitutionAsk, formula_substitute

    source = formula_source(file)
    result = formula_substitute(
        formula=source.formula,
        ask=SubstitutionAsk(replace=replace, by=by, is_removal=remove, keep=keep, **numbers),
        formula_id=source.formula_id,
        number=source.number,
    )
    if json:
        typer.echo(substitution_json(result))
    else:
        substitution_print(result)
