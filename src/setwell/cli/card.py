"""`setwell card`: the card for strangers, as text or PDF."""

# ruff: noqa: PLC0415 - services are loaded only when a command runs, so that help is quick

from pathlib import Path
from typing import Annotated

import typer

from setwell.cli.check import FileName
from setwell.cli.kitchen import kitchen_begin
from setwell.cli.paper import Paper
from setwell.cli.source import formula_source
from setwell.cli.target import bytes_write


def card(
    file: FileName,
    *,
    pdf: Annotated[
        Path | None, typer.Option("--pdf", metavar="OUT", help="Write a PDF file.")
    ] = None,
    paper: Annotated[
        Paper, typer.Option("--paper", metavar="A4|A5|Letter", help="Paper of the PDF.")
    ] = Paper.A5,
    json: Annotated[bool, typer.Option("--json", help="Print the card as JSON.")] = False,
    force: Annotated[bool, typer.Option("--force", help="Write over an existing file.")] = False,
) -> None:
    """Print the card that strangers can follow, or write it as PDF.

    Example: setwell card cream.txt --pdf cream.pdf --paper A4
    """
    kitchen_begin()
    from setwell.cli.shape import json_text
    from setwell.services.cards import card_get, card_pdf, card_text

    source = formula_source(file)
    made = card_get(formula=source.formula, number=source.number, formula_id=source.formula_id)
    if json:
        typer.echo(json_text("card", {"card": made}))
    elif pdf is None:
        typer.echo(card_text(card=made), nl=False)
    if pdf is not None:
        bytes_write(card_pdf(card=made, paper=paper.value), output=pdf, overwrite=force)
