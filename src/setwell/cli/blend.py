"""`setwell blend`: what two or three agents become over their ratios."""

# ruff: noqa: PLC0415 - services are loaded only when a command runs, so that help is quick

import re
from typing import Annotated

import typer

from setwell.cli.kitchen import kitchen_begin
from setwell.cli.source import formula_source
from setwell.errors import InputError
from setwell.units import number_parse

# A name, a colon and its parts; names may hold commas themselves.
_AGENT = re.compile(r"\s*(?P<name>[^:]+?)\s*:\s*(?P<part>[0-9][0-9.]*)\s*(?:,|;|\Z)")
_NONE = "none"


def blend(  # noqa: PLR0913 - one option for each thing that a blend depends on
    agents: Annotated[
        str,
        typer.Argument(
            metavar="AGENTS",
            help='Two or three agents with their parts: "agar:80, locust bean gum:20".',
        ),
    ],
    *,
    dose: Annotated[
        str, typer.Option("--dose", metavar="PERCENT", help="All agents together, 0 to 60 %.")
    ],
    base: Annotated[
        str, typer.Option("--base", metavar="NAME", help="One ingredient, as a line names it.")
    ] = "water",
    formula: Annotated[
        str | None,
        typer.Option("--formula", metavar="FILE", help="Or a formula, without its agents."),
    ] = None,
    kcl: Annotated[str, typer.Option("--kcl", metavar="PERCENT", help="Potassium chloride.")] = "0",
    calcium_lactate: Annotated[
        str, typer.Option("--calcium-lactate", metavar="PERCENT", help="Calcium lactate.")
    ] = "0",
    heat: Annotated[
        str, typer.Option("--heat", metavar="CELSIUS", help='Heated to; "none" for not at all.')
    ] = "90",
    hold: Annotated[str, typer.Option("--hold", metavar="MINUTES", help="Held so long.")] = "5",
    stirring: Annotated[
        str, typer.Option("--stirring", metavar="HOW", help="constant, occasional or none.")
    ] = "constant",
    serving: Annotated[str, typer.Option("--serving", metavar="CELSIUS", help="Served at.")] = "4",
    json: Annotated[bool, typer.Option("--json", help="Print everything as JSON.")] = False,
) -> None:
    """Print what a blend of agents becomes, over all its ratios and over doses.

    Example: setwell blend "kappa carrageenan:60, locust bean gum:40" --dose 0.6 --base "whole milk"
    """
    names, parts = _agents(agents)
    kitchen_begin()
    from setwell.cli.blend_print import blend_json, blend_print
    from setwell.services.blend_explorer import BlendAsk, blend_explore

    ask = BlendAsk(
        agents=names,
        parts=parts,
        dose_pct=number_parse(dose, field="dose"),
        base=base,
        formula=None if formula is None else formula_source(formula).formula,
        potassium_chloride_pct=number_parse(kcl, field="kcl"),
        calcium_lactate_pct=number_parse(calcium_lactate, field="calcium-lactate"),
        heat_c=None if heat.strip().casefold() == _NONE else number_parse(heat, field="heat"),
        hold_min=number_parse(hold, field="hold"),
        stirring=stirring,
        serving_c=number_parse(serving, field="serving"),
    )
    answer = blend_explore(ask=ask, has_charts=False)
    if json:
        typer.echo(blend_json(answer))
    else:
        blend_print(answer)


def _agents(text: str) -> tuple[tuple[str, ...], tuple[float, ...]]:
    """Return the agents and their parts: "agar:80, locust bean gum:20"."""
    names: list[str] = []
    parts: list[float] = []
    place = 0
    while place < len(text.rstrip()):
        found = _AGENT.match(text, place)
        if found is None:
            raise InputError(
                f"“{text[place:].strip()[:60]}” is not an agent with its parts.",
                field="agents",
                hint='Write a name, a colon and a number, as in "agar:80, locust bean gum:20".',
            )
        names.append(found["name"])
        parts.append(number_parse(found["part"], field="agents"))
        place = found.end()
    return tuple(names), tuple(parts)
