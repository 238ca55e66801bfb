"""`setwell card`: the card for strangers, as text or PDF."""

# ruff: noqa: PLC0415 - services are loaded only when a command runs, so that help is quick

import math
from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from setwell.cli.batch import BatchSize, Readability, grams_parse
from setwell.cli.check import FileName
from setwell.cli.given import given
from setwell.cli.kitchen import kitchen_begin
from setwell.cli.paper import Paper
from setwell.cli.source import formula_source
from setwell.cli.target import bytes_write
from setwell.errors import InputError
from setwell.units import mass_parse


class Kind(StrEnum):
    """For whom a card is; named here so that help needs no service."""

    HOME = "home"
    PRO = "pro"
    BENCH = "bench"


def card(  # noqa: PLR0913 - one option for each thing to choose
    file: FileName,
    *,
    kind: Annotated[
        Kind, typer.Option("--kind", metavar="home|pro|bench", help="For whom the card is.")
    ] = Kind.PRO,
    pdf: Annotated[
        Path | None, typer.Option("--pdf", metavar="OUT", help="Write a PDF file.")
    ] = None,
    paper: Annotated[
        Paper, typer.Option("--paper", metavar="A4|A5|Letter|Phone", help="Paper of the PDF.")
    ] = Paper.A5,
    address: Annotated[
        str, typer.Option("--address", metavar="URL", help="Address for the QR code.")
    ] = "",
    lot: Annotated[
        list[str] | None,
        typer.Option(
            "--lot",
            metavar="AGENT=STRENGTH",
            help="A lot at hand, as times the usual strength; may be given several times.",
        ),
    ] = None,
    batch: BatchSize = None,
    readability: Readability = None,
    json: Annotated[bool, typer.Option("--json", help="Print the card as JSON.")] = False,
    force: Annotated[bool, typer.Option("--force", help="Write over an existing file.")] = False,
) -> None:
    """Print the card that strangers can follow, or write it as PDF.

    Example: setwell card cream.txt --kind home --batch 1.2kg --pdf cream.pdf --paper A4
    """
    strengths = dict(_strength(given) for given in lot or ())
    grams = given(batch, mass_parse, "batch")
    step = None if readability is None else grams_parse(readability)
    if step is not None and grams is None:
        raise typer.BadParameter("--readability belongs to --batch")
    kitchen_begin()
    from setwell.cli.shape import json_text
    from setwell.services.cards import CardBatch, CardKind, card_get, card_pdf, card_text

    source = formula_source(file)
    made = card_get(
        formula=source.formula,
        number=source.number,
        formula_id=source.formula_id,
        kind=CardKind(kind.value),
        address=address,
        strengths=strengths,
        batch=None if grams is None else CardBatch(grams, step),
    )
    if json:
        typer.echo(json_text("card", {"card": made}))
    elif pdf is None:
        typer.echo(card_text(card=made), nl=False)
    if pdf is not None:
        bytes_write(card_pdf(card=made, paper=paper.value), output=pdf, overwrite=force)


def _strength(given: str) -> tuple[str, float]:
    """Return the agent and the strength of AGENT=STRENGTH."""
    agent, equals, text = given.partition("=")
    try:
        strength = float(text.replace(",", "."))
    except ValueError:
        strength = math.nan
    if not equals or not agent.strip() or math.isnan(strength):
        raise InputError(
            f"“{given[:60]}” is not AGENT=STRENGTH.",
            field="lot",
            hint="Write for example --lot kappa_carrageenan=0.85, for a lot 15 % weaker.",
        )
    return agent.strip().replace(" ", "_"), strength
