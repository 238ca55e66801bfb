"""`setwell robustness`: how many strangers get what a formula promises."""

# ruff: noqa: PLC0415 - services are loaded only when a command runs, so that help is quick

from typing import Annotated

import typer

from setwell.cli.given import given
from setwell.cli.kitchen import kitchen_begin
from setwell.cli.source import formula_source
from setwell.units import number_parse

FormulaName = Annotated[
    str,
    typer.Argument(
        metavar="FORMULA",
        help="A file (JSON, schema.org Recipe, web page, text), a saved title or id, or -.",
    ),
]


def robustness(
    formula: FormulaName,
    *,
    profile: Annotated[
        str, typer.Option("--profile", metavar="NAME", help="Whose kitchens: home, pro or lab.")
    ] = "home",
    low: Annotated[
        str | None,
        typer.Option("--low", metavar="NUMBER", help="Right from: kPa of a gel, else mPa·s."),
    ] = None,
    high: Annotated[
        str | None, typer.Option("--high", metavar="NUMBER", help="Right to, in the same unit.")
    ] = None,
    draws: Annotated[
        int | None, typer.Option("--draws", metavar="N", help="How many batches to make.")
    ] = None,
    seed: Annotated[
        int | None, typer.Option("--seed", metavar="N", help="The same number, the same batches.")
    ] = None,
    json: Annotated[bool, typer.Option("--json", help="Print everything as JSON.")] = False,
) -> None:
    """Print how many other kitchens get a formula right, what goes wrong and what would help.

    Example: setwell robustness cream.txt --profile home
    """
    ends = [given(one, number_parse, name)
            for one, name in ((low, "low"), (high, "high"))]  # fmt: skip
    kitchen_begin()
    from setwell.cli.robustness_print import robustness_json, robustness_print
    from setwell.services.robustness import (
        DRAWS,
        SEED,
        RobustnessAsk,
        kitchen_profile,
        robustness_of,
    )

    ask = RobustnessAsk(
        profile=kitchen_profile(profile),
        low=ends[0],
        high=ends[1],
        draws=DRAWS if draws is None else draws,
        seed=SEED if seed is None else seed,
    )
    source = formula_source(formula)
    answer = robustness_of(
        formula=source.formula, ask=ask, formula_id=source.formula_id, number=source.number,
        has_charts=False,
    )  # fmt: skip
    if json:
        typer.echo(robustness_json(answer))
    else:
        robustness_print(answer)
