"""`setwell kit`: dry kits, their packing sheet and labels."""

# ruff: noqa: PLC0415 - services are loaded only when a command runs, so that help is quick

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from setwell.cli.check import FileName
from setwell.cli.given import given
from setwell.cli.kitchen import kitchen_begin
from setwell.cli.source import formula_source
from setwell.cli.target import bytes_write
from setwell.units import mass_parse


class SheetPaper(StrEnum):
    """The papers of a packing sheet."""

    A4 = "A4"
    LETTER = "Letter"


def kit(
    file: FileName,
    *,
    kits: Annotated[int, typer.Option("--kits", metavar="N", help="How many kits.")] = 10,
    serves: Annotated[
        str | None, typer.Option("--serves", metavar="WEIGHT", help="What one makes, as in 900g.")
    ] = None,
    spare: Annotated[
        float, typer.Option("--spare", metavar="PERCENT", help="Spare, for scoops and dust.")
    ] = 2.0,
    address: Annotated[
        str, typer.Option("--address", metavar="URL", help="Where the card is found, for the QR.")
    ] = "",
    pdf: Annotated[
        Path | None, typer.Option("--pdf", metavar="OUT", help="Write sheet and labels as PDF.")
    ] = None,
    paper: Annotated[
        SheetPaper, typer.Option("--paper", metavar="A4|Letter", help="Paper of the PDF.")
    ] = SheetPaper.A4,
    force: Annotated[bool, typer.Option("--force", help="Write over an existing file.")] = False,
) -> None:
    """Print what to weigh into the bags of dry kits, or write the packing sheet with labels.

    Example: setwell kit cream.txt --kits 12 --address https://kitchen.example/cream/ --pdf kits.pdf
    """
    kitchen_begin()
    from setwell.cli.kit_print import kit_print
    from setwell.services.kits import KitAsk, kit_of, kit_pdf

    source = formula_source(file)
    grams = given(serves, mass_parse, "serves_g")
    answer = kit_of(
        formula=source.formula,
        ask=KitAsk(kits=kits, serves_g=grams, spare_pct=spare),
        address=address,
        formula_id=source.formula_id,
        number=source.number,
    )
    if pdf is None:
        kit_print(answer)
    else:
        made = kit_pdf(sheet=answer.sheet, paper=paper.value)
        bytes_write(made, output=pdf, overwrite=force)
